import { describe, expect, it } from "vitest"
import type { Entry, NewEntry } from "../../src/garden/entry.ts"
import { logLine, numbered, readEntry, readLogLines } from "../../src/garden/read-log.ts"
import { day } from "../../src/values/day.ts"
import { instant } from "../../src/values/instant.ts"
import { WrongInput } from "../../src/values/problem.ts"

const AT = instant("2026-05-13T12:00:00Z")

/** One entry of every kind, with every field that may be absent there at least once. */
const EVERY: NewEntry[] = [
  {
    at: AT,
    garden: "long-acre",
    by: "ines",
    via: "sms",
    kind: "reply",
    text: "done 1 \u{1F33E}\u2028 \ud800 end\u0000",
    acts: [
      { act: "done", n: [1], on: day("2026-05-13") },
      { act: "measure", bed: null, what: "rain_mm", value: 12.5, on: day("2026-05-12") },
      { act: "tell", about: "why", bed: "south", n: null },
    ],
    ask: { which: "bed", choices: ["south", 2] },
    note: true,
    photos: ["photos/1.jpg"],
    message: "SM1",
  },
  { at: AT, garden: "long-acre", by: "ines", via: "web", kind: "undo", undone: 1 },
  { at: AT, garden: "long-acre", by: "ryebell", via: "sms", kind: "answer", to: "ines", answers: 1, text: "Noted." },
  {
    at: AT,
    garden: "long-acre",
    by: "ryebell",
    via: "sms",
    kind: "sent",
    to: "ines",
    text: "1 Cut South bed",
    told: [{ n: 1, id: "south:2025-09-20:cut:1", kind: "cut", bed: "south", days: { by: day("2026-05-14") } }],
    message: "k1",
  },
  { at: AT, garden: "long-acre", by: "ryebell", via: "email", kind: "digest", to: "ines", week: "2026-W20", told: [] },
  {
    at: AT,
    garden: "long-acre",
    by: "ryebell",
    via: "sms",
    kind: "failed",
    to: "ines",
    of: [],
    code: "30006",
    text: "landline",
  },
  {
    at: AT,
    garden: "long-acre",
    by: "ryebell",
    via: "terminal",
    kind: "lapsed",
    of: "x:cut:1",
    because: "its day is over",
  },
  {
    at: AT,
    garden: "long-acre",
    by: "ines",
    via: "sms",
    kind: "channel",
    person: "ines",
    channel: "text",
    state: "stopped",
    because: "STOP",
  },
]
const ENTRIES: Entry[] = EVERY.map((entry, i) => numbered(entry, i + 1))
const TEXT = ENTRIES.map((entry) => `${logLine(entry)}\n`).join("")

function problemsOf(work: () => unknown) {
  try {
    work()
  } catch (error) {
    if (error instanceof WrongInput) return error.problems
    throw error
  }
  throw new Error("expected a WrongInput")
}

describe("a log line", () => {
  it("gives back every kind of entry as it was, in the shape that other programs rely on", () => {
    for (const entry of ENTRIES) expect(readEntry(logLine(entry))).toEqual(entry)
    const first = JSON.parse(logLine(ENTRIES[0] as Entry))
    expect(Object.keys(first).slice(0, 6)).toEqual(["seq", "at", "garden", "by", "via", "kind"])
    expect(first.at).toBe("2026-05-13T12:00:00.000Z")
    expect(logLine(ENTRIES[0] as Entry)).not.toContain("\n")
  })

  it("takes any offset and keys that it does not know, and is no entry where it is not whole", () => {
    const line =
      '{"seq":1,"at":"2026-05-13T08:00:00-04:00","garden":"g","by":"x","via":"cli","kind":"undo","undone":1,"later":true}'
    expect(readEntry(line)).toEqual({ seq: 1, at: AT, garden: "g", by: "x", via: "cli", kind: "undo", undone: 1 })
    expect(readEntry(line.slice(0, -1))).toBeNull()
    expect(readEntry('{"seq":1}')).toBeNull()
  })

  it("is never made of what could not be read again", () => {
    const bad = {
      ...EVERY[0],
      acts: [{ act: "measure", bed: null, what: "rain_mm", value: Number.NaN, on: "2026-05-12" }],
    }
    expect(() => numbered(bad as never, 1)).toThrow(/kind reply cannot be logged: acts\[0\]\.value/)
    expect(() => numbered({ ...EVERY[1], via: "pigeon" } as never, 1)).toThrow(/via/)
  })
})

describe("a log in a file", () => {
  it("is read whole: empty lines, a mark at the start and Windows line ends change nothing", () => {
    expect(readLogLines(TEXT, "log.jsonl")).toEqual({ entries: ENTRIES, warnings: [] })
    const windows = `\uFEFF${TEXT.replaceAll("\n", "\r\n\r\n")}`
    expect(readLogLines(windows, "log.jsonl")).toEqual({ entries: ENTRIES, warnings: [] })
    expect(readLogLines("", "log.jsonl")).toEqual({ entries: [], warnings: [] })
    expect(readLogLines(TEXT.trimEnd(), "log.jsonl").entries).toHaveLength(8)
  })

  it("may be a part of a log, or of several gardens' logs", () => {
    const part = [ENTRIES[2], ENTRIES[5], numbered({ ...(EVERY[1] as NewEntry), garden: "allotment" }, 1)] as Entry[]
    expect(readLogLines(part.map(logLine).join("\n"), "log.jsonl").entries).toEqual(part)
  })

  it("loses only the torn last line, with a warning, wherever the file is cut in its last 3 lines (S14)", () => {
    const lines = TEXT.trimEnd().split("\n")
    const before = lines.slice(0, -3).join("\n").length + 1
    for (let cut = before; cut <= TEXT.length; cut += 1) {
      const part = TEXT.slice(0, cut)
      const whole = part.split("\n").length - 1
      const tail = part.slice(part.lastIndexOf("\n") + 1)
      const { entries, warnings } = readLogLines(part, "log.jsonl")
      const tailIsWhole = lines.includes(tail)
      expect(entries, `cut at ${cut}`).toEqual(ENTRIES.slice(0, whole + (tailIsWhole ? 1 : 0)))
      expect(warnings, `cut at ${cut}`).toHaveLength(tail === "" || tailIsWhole ? 0 : 1)
      if (warnings[0]) expect(warnings[0]).toMatch(new RegExp(`^log\\.jsonl:${whole + 1}: the last line is torn off`))
    }
  })

  it("names every other bad line with its number and field, all at once", () => {
    const line = (more: object) => JSON.stringify({ ...JSON.parse(logLine(ENTRIES[1] as Entry)), ...more })
    const text = [
      line({ seq: 1 }),
      "cut the south bed",
      line({ seq: 2, kind: "undoo" }),
      line({ seq: 3, at: "2026-05-13 12:00" }),
      line({ seq: "four" }),
      line({ seq: 5, via: "smss" }),
      "{",
      line({ seq: 5 }),
      line({ seq: 5 }),
      "[]",
      "",
    ].join("\n")
    const problems = problemsOf(() => readLogLines(text, "log.jsonl"))
    expect(problems.map((problem) => [problem.place?.line, problem.field])).toEqual([
      [2, ""],
      [3, "kind"],
      [4, "at"],
      [5, "seq"],
      [6, "via"],
      [7, ""],
      [9, "seq"],
      [10, ""],
    ])
    expect(problems[0]).toMatchObject({ found: '"cut the south bed"', expected: "one JSON object a line" })
    expect(problems[1]).toMatchObject({ found: '"undoo"', nearest: "undo" })
    expect(problems[2]).toMatchObject({ expected: "an instant, RFC 3339 with offset" })
    expect(problems[3]).toMatchObject({ found: '"four"', expected: "a value of type number" })
    expect(problems[6]).toMatchObject({
      found: "5",
      expected: "a number above 5, the one before it in garden long-acre",
    })
  })

  it("is not fooled by keys that belong to every object (X20)", () => {
    const line = `${logLine(ENTRIES[1] as Entry).slice(0, -1)},"__proto__":{"polluted":true}}`
    const { entries } = readLogLines(line, "log.jsonl")
    expect(entries).toEqual([ENTRIES[1]])
    expect(({} as Record<string, unknown>).polluted).toBeUndefined()
  })
})
