import { describe, expect, it } from "vitest"
import { csv, logTable, planTable, reminderTable } from "../../src/wording/export.ts"
import { BEDS, ENTRIES, garden, plan, REMINDERS } from "./long-acre.ts"

/** Reads CSV as RFC 4180 writes it. */
function parse(text: string): string[][] {
  const rows: string[][] = [[]]
  let cell = ""
  let quoted = false
  for (let i = 0; i < text.length; i += 1) {
    const c = text[i] as string
    if (quoted) {
      if (c === '"' && text[i + 1] === '"') {
        cell += '"'
        i += 1
      } else if (c === '"') quoted = false
      else cell += c
    } else if (c === '"') quoted = true
    else if (c === ",") {
      rows.at(-1)?.push(cell)
      cell = ""
    } else if (c === "\r" && text[i + 1] === "\n") {
      rows.at(-1)?.push(cell)
      cell = ""
      rows.push([])
      i += 1
    } else cell += c
  }
  rows.pop()
  return rows
}

const one = (cell: string | number | null) => parse(csv({ columns: ["x"], rows: [[cell]] }))[1]?.[0]

describe("a table as CSV", () => {
  it("reads back as it was written, quotes, commas and line breaks and all (RFC 4180)", () => {
    const rows = [["plain", 'say "hi", he said', "two\r\nlines", "", " edge "]]
    expect(parse(csv({ columns: ["a", "b", "c", "d", "e"], rows }))).toEqual([["a", "b", "c", "d", "e"], ...rows])
  })

  // Source of the signs: OWASP, "CSV injection" (also full-width forms, and separators within a cell).
  it.each([
    "=1+1",
    '=HYPERLINK("http://x.example","x")',
    "+1+1",
    "-1+1",
    "@SUM(1)",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    "  =1+1",
    "\uff1d1+1",
    "\uff0b1+1",
    "\uff0d1+1",
    "\uff20SUM(1)",
    "=cmd|' /C calc'!A0",
  ])("keeps a spreadsheet from running %j (failure X12)", (payload) => {
    expect(one(payload)?.trimStart()).toMatch(/^'/)
  })

  it("guards behind separators within a text too, where a program that loses the quotes would begin a cell", () => {
    for (const text of ["a,=1+1", "a;=1+1", "a\t=1+1", 'a"=1+1', "a\n=1+1"]) expect(one(text)).toContain("'=1+1")
  })

  it("leaves numbers numbers", () => {
    expect([one(-9), one("-9"), one(0.25), one(null)]).toEqual(["-9", "-9", "0.25", ""])
  })
})

describe("the exported log", () => {
  it("holds every entry with its words", () => {
    const [head, ...rows] = parse(csv(logTable(ENTRIES)))
    const text = head?.indexOf("text") ?? -1
    expect(rows).toHaveLength(ENTRIES.length)
    expect(rows[2]?.[text]).toBe("rye on south has heads out, about 4 ft, smells like rain <3")
    expect(rows[2]?.[0]).toBe("3")
  })
})

describe("the exported plan", () => {
  it("holds a row for each species of each sowing, with its windows", () => {
    const [head, ...rows] = parse(csv(planTable(plan(), garden(BEDS))))
    const of = (row: string[] | undefined, name: string) => row?.[head?.indexOf(name) ?? -1]
    expect(rows).toHaveLength(7)
    const rye = rows.find((row) => of(row, "bed") === "south" && of(row, "species") === "winter-rye")
    expect([of(rye, "first_flower_likely"), of(rye, "cut_by"), of(rye, "next_crop"), of(rye, "fits")]).toEqual([
      "2026-05-14",
      "2026-05-22",
      "tomato",
      "no",
    ])
    expect(rows.every((row) => row.length === head?.length)).toBe(true)
  })

  it("holds the reminders beside it", () => {
    const [, ...rows] = parse(csv(reminderTable(REMINDERS)))
    expect(rows.map((row) => row[0])).toEqual(REMINDERS.map((each) => each.id))
  })
})
