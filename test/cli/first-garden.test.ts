import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { PassThrough } from "node:stream"
import { fileURLToPath } from "node:url"
import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { firstGarden, makeFirstGarden } from "../../src/cli/first-garden.ts"
import { schemaFrom, writeNewFile } from "../../src/cli/first-garden-file.ts"
import { openTalk } from "../../src/cli/talk.ts"
import { readCoordinates, readSaidDay, townsCalled, wordsOfMix } from "../../src/garden/first-answers.ts"
import type { Garden } from "../../src/garden/garden.ts"
import { readGarden } from "../../src/garden/read.ts"
import { day } from "../../src/values/day.ts"
import { CouldNot } from "../../src/values/problem.ts"
import { handbook } from "../given.ts"

const TODAY = day("2026-05-10")

/** A talk in which the answers are known beforehand; after the last one the person is gone. */
function scripted(answers: readonly string[]) {
  const left = [...answers]
  const said: string[] = []
  const asked: string[] = []
  const talk = {
    ask: async (question: string) => {
      asked.push(question)
      return left.shift() ?? null
    },
    say: (text: string) => void said.push(text),
  }
  return { talk, said, asked, left }
}

async function gardenFrom(answers: readonly string[]): Promise<{ garden: Garden; text: string; said: string[] }> {
  const { talk, said, left } = scripted(answers)
  const text = await firstGarden(talk, { handbook: handbook(), today: () => TODAY, file: "garden.yaml" })
  expect(left).toEqual([])
  if (text === null) throw new Error(`the talk ended early:\n${said.join("\n")}`)
  const read = readGarden(text, "garden.yaml", handbook())
  if ("problems" in read) throw new Error("the file is wrong")
  expect(read.warnings).toEqual([])
  return { garden: read.garden, text, said }
}

const AMERICAN = [
  "40.04, -76.31",
  "",
  "",
  "Ines",
  "+1 (717) 555-0142",
  "",
  "",
  "4 x 8 ft",
  "rye 60, vetch 40",
  "hairy vetch",
  "sep 20",
  "tomatoes",
  "may 25",
  "",
]

describe("the talk of the first start", () => {
  it("leads to a garden file in US units, with comments, that the reader takes", async () => {
    const { garden, text } = await gardenFrom(AMERICAN)
    expect(garden).toMatchObject({
      id: "garden",
      name: "Ines's garden",
      place: { latitude: 40.04, longitude: -76.31, zone: "America/New_York", units: "us", dates: "month-first" },
      people: [{ id: "ines", name: "Ines", phone: "+17175550142", email: null, by: "text" }],
      beds: [
        {
          id: "south-bed",
          name: "South bed",
          kind: "raised",
          sowings: [
            {
              sown: "2025-09-20",
              species: [
                { id: "winter-rye", share: 0.6 },
                { id: "hairy-vetch", share: 0.4 },
              ],
              next: { crop: "tomato", wanted: "2026-05-25" },
            },
          ],
        },
      ],
    })
    expect(garden.beds[0]?.area_m2).toBeCloseTo(2.97289728, 8)
    expect(text).toMatch(/^ {2}units: us +# us \| metric$/m)
    expect(text.match(/#/g)?.length).toBeGreaterThan(8)
  })

  it("leads to one in metric units from a town, with a mail address and two beds", async () => {
    const { garden, said } = await gardenFrom([
      "Freiburg",
      "",
      "",
      "Jürgen",
      "jürgen@x",
      "juergen@example.org",
      "Südbeet",
      "",
      "1,2 x 2,4 m",
      "oats + peas",
      "field pea",
      "15.3.",
      "",
      "Südbeet",
      "Glashaus",
      "greenhouse",
      "3 m2",
      "",
      "",
    ])
    expect(garden.place).toMatchObject({ units: "metric", dates: "day-first" })
    expect(garden.place.latitude).toBeCloseTo(48, 0)
    expect(garden.people[0]).toMatchObject({ id: "jurgen", email: "juergen@example.org", by: "mail" })
    expect(garden.beds.map((bed) => [bed.id, bed.kind, bed.area_m2.toFixed(2), bed.sowings.length])).toEqual([
      ["sudbeet", "raised", "2.88", 1],
      ["glashaus", "greenhouse", "3.00", 0],
    ])
    expect(garden.beds[0]?.sowings[0]).toMatchObject({ sown: "2026-03-15", next: null })
    expect(said.join("\n")).toContain("a name that no other bed has")
  })

  it("asks again after an answer that cannot be used, with what is expected and the nearest word", async () => {
    const slips = [
      "Nowhereville",
      "95, 200",
      "40.04, 76.31",
      "America/New_York",
      "40.04, -76.31",
      "America/NewYork",
      "",
      "imperial",
      "us",
      "",
      "Ines",
      "717",
      "+17175550142",
      "",
      "bed",
      "",
      "4 x 8",
      "4 x 8 ft",
      "ryee",
      "rye 60, vetch 60",
      "rye",
      "someday",
      "9/20/2025",
      "tomatoo",
      "tomato",
      "sep 1 2025",
      "",
      "",
    ]
    const { garden, said } = await gardenFrom(slips)
    expect(garden.beds[0]?.sowings[0]).toMatchObject({ sown: "2025-09-20", next: { crop: "tomato", wanted: null } })
    const heard = said.join("\n")
    for (const words of [
      "a larger town",
      "latitude -90 to 90",
      "sign of the longitude",
      "Did you mean America/New_York?",
      "us or metric",
      "+17175550142",
      "raised, plot or greenhouse",
      "size with its unit",
      "Did you mean rye?",
      "add up to 100",
      "a day such as",
      "Did you mean tomato?",
      "a day after 2025-09-20",
    ])
      expect(heard).toContain(words)
  })

  it("takes a day to come as planned, and a mix without shares as a list", async () => {
    const { garden, text } = await gardenFrom([
      "40.04, -76.31",
      "",
      "",
      "Ines",
      "a@example.org",
      "",
      "plot",
      "3 m2",
      "buckwheat and cowpeas",
      "in 2 weeks",
      "",
      "",
    ])
    expect(garden.beds[0]?.sowings[0]).toMatchObject({
      sown: null,
      planned: "2026-05-24",
      species: [
        { id: "buckwheat", share: 0.5 },
        { id: "cowpea", share: 0.5 },
      ],
    })
    expect(text).toContain("species: [buckwheat, cowpea]")
  })

  it("keeps words that YAML would take for something else", async () => {
    const { garden } = await gardenFrom([
      "40.04, -76.31",
      "",
      "",
      "No",
      "a@example.org",
      'Yes: #1 "bed"',
      "",
      "3 m2",
      "",
      "null",
      "",
      "3 m2",
      "",
      "007",
      "",
      "3 m2",
      "",
      "",
    ])
    expect(garden.people[0]?.name).toBe("No")
    expect(garden.beds.map((bed) => bed.name)).toEqual(['Yes: #1 "bed"', "null", "007"])
  })
})

describe("the garden file of the first start", () => {
  let folder: string
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "ryebell-first-"))
  })
  afterEach(() => rmSync(folder, { recursive: true }))

  const options = (file: string) => ({ handbook: handbook(), today: () => TODAY, file })

  it("is written whole, into a folder that is made for it", async () => {
    const file = join(folder, "config", "garden.yaml")
    expect(await makeFirstGarden(scripted(AMERICAN).talk, options(file))).toBe(true)
    expect("garden" in readGarden(readFileSync(file, "utf8"), file, handbook())).toBe(true)
    expect(readdirSync(join(folder, "config"))).toEqual(["garden.yaml"])
  })

  it("is not there at all where the person leaves, after whichever question", async () => {
    for (let answers = 0; answers < AMERICAN.length; answers += 1) {
      const { talk, said } = scripted(AMERICAN.slice(0, answers))
      expect(await makeFirstGarden(talk, options(join(folder, "garden.yaml")))).toBe(false)
      expect(said.at(-1)).toBe("Nothing was written.")
      expect(readdirSync(folder)).toEqual([])
    }
  })

  it("is refused before the first question, with what to do, where it could not be written", async () => {
    const { talk, said } = scripted(AMERICAN)
    // A folder below a file can be made by nobody, whatever their rights.
    writeFileSync(join(folder, "file"), "")
    await expect(makeFirstGarden(talk, options(join(folder, "file", "garden.yaml")))).rejects.toThrow(/RYEBELL_GARDEN/)
    expect(said).toEqual([])
  })

  it("never takes the place of a file that is there", async () => {
    const file = join(folder, "garden.yaml")
    writeFileSync(file, "mine")
    await expect(makeFirstGarden(scripted(AMERICAN).talk, options(file))).rejects.toThrow(/there already/)
    expect(readFileSync(file, "utf8")).toBe("mine")
    expect(readdirSync(folder)).toEqual(["garden.yaml"])
  })

  it("says so where the folder cannot be written", () => {
    writeFileSync(join(folder, "not-a-folder"), "")
    expect(() => writeNewFile(join(folder, "not-a-folder", "garden.yaml"), "x")).toThrow(CouldNot)
  })

  it("names its schema for editors where it lies in the project", () => {
    const project = fileURLToPath(new URL("../../", import.meta.url))
    expect(schemaFrom(join(project, "config/garden.yaml"), project)).toBe("../shared/schemas/garden.json")
    expect(schemaFrom(join(folder, "garden.yaml"), project)).toBeNull()
  })
})

describe("a talk over streams", () => {
  it("works through a pipe: lines wait for their question, and the end of the pipe ends the words", async () => {
    const [input, output] = [new PassThrough(), new PassThrough()]
    const talk = openTalk(input, output)
    input.write("one\ntwo\n")
    expect(await talk.ask("a? ")).toBe("one")
    expect(await talk.ask("b? ")).toBe("two")
    const third = talk.ask("c? ")
    input.write("three\n")
    expect(await third).toBe("three")
    const last = talk.ask("d? ")
    input.end()
    expect(await last).toBeNull()
    expect(await talk.ask("e? ")).toBeNull()
    talk.say("bye")
    expect(String(output.read())).toBe("a? one\nb? two\nc? three\nd? \ne? \nbye\n")
    talk.close()
  })

  it("breaks a long question between words at a narrow terminal, and ends the line of one that is left with Ctrl-C", async () => {
    const input = Object.assign(new PassThrough(), { isTTY: true, setRawMode: () => {} })
    const output = Object.assign(new PassThrough(), { isTTY: true, columns: 50 })
    const talk = openTalk(input, output)
    const asked = talk.ask("Your mobile phone with + and country code, or your mail address: ")
    input.write("\u0003")
    expect(await asked).toBeNull()
    // biome-ignore lint/suspicious/noControlCharactersInRegex: what moves the cursor is no word
    const shown = String(output.read()).replace(/\u001b\[[0-9]*[A-Z]/g, "")
    expect(shown).toContain("Your mobile phone with + and\n")
    expect(shown).toContain("address: \n")
    talk.close()
  })

  it("makes a garden from a file of answers", async () => {
    const [input, output] = [new PassThrough(), new PassThrough()]
    input.end(`${AMERICAN.join("\n")}\n`)
    const text = await firstGarden(openTalk(input, output), {
      handbook: handbook(),
      today: () => TODAY,
      file: "g.yaml",
    })
    expect(text).toContain("sown: 2025-09-20")
    expect(existsSync("g.yaml")).toBe(false)
  })
})

describe("answers", () => {
  it.each([
    ["40.04, -76.31", 40.04, -76.31],
    ["40.04 -76.31", 40.04, -76.31],
    ["40.04N 76.31W", 40.04, -76.31],
    ["43.53° S, 172.64° E", -43.53, 172.64],
    ["47,99 7,85", 47.99, 7.85],
    ["47,99; 7,85", 47.99, 7.85],
    ["52, 13", 52, 13],
  ])("%j is a spot", (text, lat, lon) => {
    expect(readCoordinates(text)).toEqual({ value: { lat, lon, name: null } })
  })

  it("find towns by their station's name, state or country", () => {
    const towns = (text: string) => townsCalled(text, handbook().climates)
    expect(towns("York, PA").towns.map(({ where }) => where)).toEqual(["PA"])
    expect(towns("york").towns.length).toBeGreaterThan(1)
    expect(towns("Freiburg").towns[0]?.where).toBe("Germany")
    expect(towns("Christchurch, New Zealand").elsewhere).toBe(false)
    expect(towns("Lancaster, PA").elsewhere).toBe(true)
    expect(towns("Xyzzy").towns).toEqual([])
  })

  it.each([
    ["2025-09-20", "2025-09-20"],
    ["today", "2026-05-10"],
    ["yesterday", "2026-05-09"],
    ["3 weeks ago", "2026-04-19"],
    ["in 10 days", "2026-05-20"],
    ["20 September", "2026-09-20"],
    ["Sept 20th, 2025", "2025-09-20"],
    ["9/20/25", "2025-09-20"],
    ["4/5", "2026-04-05"],
    ["2025-02-30", null],
    ["feb 30", null],
    ["13/13", null],
    ["soon", null],
  ])("%j is the day %s, months first", (text, expected) => {
    const read = readSaidDay(text, TODAY, "month-first")
    expect("value" in read ? read.value : null).toBe(expected)
  })

  it("take days first where the gardener does", () => {
    expect(readSaidDay("4/5", TODAY, "day-first")).toEqual({ value: "2026-05-04" })
    expect(readSaidDay("20.9.2025", TODAY, "day-first")).toEqual({ value: "2025-09-20" })
  })

  it("cut a mix into its covers and shares", () => {
    expect(wordsOfMix("rye 60, vetch 40")).toEqual([
      { word: "rye", share: 60 },
      { word: "vetch", share: 40 },
    ])
    expect(wordsOfMix("60% winter rye and 40 % hairy vetch")).toEqual([
      { word: "winter rye", share: 60 },
      { word: "hairy vetch", share: 40 },
    ])
    expect(wordsOfMix("oats + peas")).toEqual([
      { word: "oats", share: null },
      { word: "peas", share: null },
    ])
    expect(wordsOfMix(" ")).toEqual([])
  })
})
