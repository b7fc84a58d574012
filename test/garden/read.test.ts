import { readdirSync, readFileSync } from "node:fs"
import fc from "fast-check"
import { describe, expect, it } from "vitest"
import { parse } from "yaml"
import type { Garden } from "../../src/garden/garden.ts"
import { gardenIdOf, readGarden } from "../../src/garden/read.ts"
import { openHandbook } from "../../src/handbook/open.ts"
import { showProblem } from "../../src/values/problem.ts"

const handbook = openHandbook(new URL("../../shared/", import.meta.url))
const root = new URL("../../", import.meta.url)
const text = (path: string) => readFileSync(new URL(path, root), "utf8")
const examples = [
  "config/garden.yaml",
  ...readdirSync(new URL("config/examples/", root)).map((name) => `config/examples/${name}`),
]

function garden(source: string, name = "garden.yaml"): Garden {
  const read = readGarden(source, name, handbook)
  if ("problems" in read) throw new Error(read.problems.map(showProblem).join("\n"))
  return read.garden
}

/** A garden of one person and the beds given, as YAML. */
const withBeds = (beds: string, person = '{ id: ines, phone: "+17175550142", email: ines@example.org }') => `
place: { latitude: 40.04, longitude: -76.31, zone: America/New_York }
people: [${person}]
beds:
${beds}
`

describe("the garden file", () => {
  it("is read whole", () => {
    const read = garden(`
garden: Long Acre
place:
  latitude: 40.04
  longitude: -76.31
  zone: America/New_York
  units: us
  dates: month-first
  normals: york-pa
  frost: { last: 05-04, first: 10-12 }
people:
  - id: ines
    name: Ines
    phone: "+17175550142"
    email: ines@example.org
    zone: America/Chicago
    minds: [south]
    by: text
    texts: { from: "08:00", to: "19:30", most: 3 }
    digest: { day: monday, at: "17:05" }
beds:
  - id: south
    name: South bed
    also: [long one]
    kind: raised
    size: 4 x 8 ft
    sowings:
      - sown: 2025-09-20
        species: { hairy-vetch: 40, winter-rye: 60 }
        then: carry-off
        next: { crop: tomato, wanted: 2026-05-25 }
      - planned: 2026-08-28
        species: [oats, field-pea]
`)
    expect(read).toEqual({
      id: "garden",
      name: "Long Acre",
      place: {
        latitude: 40.04,
        longitude: -76.31,
        elev_m: null,
        zone: "America/New_York",
        units: "us",
        dates: "month-first",
        normals: "york-pa",
        frost: { last: "05-04", first: "10-12" },
      },
      people: [
        {
          id: "ines",
          name: "Ines",
          phone: "+17175550142",
          email: "ines@example.org",
          zone: "America/Chicago",
          minds: ["south"],
          by: "text",
          texts: { from: 480, to: 1170, most: 3 },
          digest: { day: "monday", at: 1025 },
        },
      ],
      beds: [
        {
          id: "south",
          name: "South bed",
          also: ["long one"],
          kind: "raised",
          area_m2: expect.closeTo(2.97289728, 8),
          sowings: [
            {
              id: "south:2025-09-20",
              bed: "south",
              sown: "2025-09-20",
              planned: null,
              species: [
                { id: "hairy-vetch", share: 0.4 },
                { id: "winter-rye", share: 0.6 },
              ],
              then: "carry-off",
              next: { crop: "tomato", wanted: "2026-05-25" },
            },
            {
              id: "south:2026-08-28",
              bed: "south",
              sown: null,
              planned: "2026-08-28",
              species: [
                { id: "oats", share: 0.5 },
                { id: "field-pea", share: 0.5 },
              ],
              then: "leave",
              next: null,
            },
          ],
        },
      ],
    })
  })

  it("takes what it does not say from the defaults", () => {
    const read = garden(
      withBeds("  - { id: south-bed, size: 3 m2, sowings: [{ sown: 2025-09-20, species: [oats] }] }"),
      "Back Yard.yml",
    )
    expect(read.id).toBe("back-yard")
    expect(read.name).toBe("Back yard")
    expect(read.place).toMatchObject({ units: "metric", dates: "day-first", normals: null, frost: null, elev_m: null })
    expect(read.people[0]).toMatchObject({
      name: "Ines",
      zone: "America/New_York",
      minds: null,
      by: "text",
      texts: { from: 8 * 60, to: 19 * 60 + 30, most: 2 },
      digest: { day: "sunday", at: 17 * 60 },
    })
    expect(read.beds[0]).toMatchObject({ name: "South bed", also: [], kind: "raised" })
    expect(read.beds[0]?.sowings[0]).toMatchObject({ then: "leave", next: null, species: [{ id: "oats", share: 1 }] })
  })

  it("reaches by mail whoever has no phone, and sends no digest to whoever has no mail or wants none", () => {
    const person = (who: string) => garden(withBeds("  - { id: a, size: 3 m2 }", who)).people[0]
    expect(person("{ id: a, email: a@example.org }")?.by).toBe("mail")
    expect(person("{ id: a, phone: +17175550142 }")?.digest).toBeNull()
    expect(person("{ id: a, email: a@example.org, digest: none }")?.digest).toBeNull()
    expect(person("{ id: a, email: a@example.org, digest: }")?.digest).toEqual({ day: "sunday", at: 1020 })
  })

  it.each(examples)("%s, an example of ours, is read without a problem or a warning", (path) => {
    const read = readGarden(text(path), path, handbook)
    expect("problems" in read ? read.problems.map(showProblem) : []).toEqual([])
    expect(read.warnings.map(showProblem)).toEqual([])
  })
})

describe("words of the file (failures C2 to C6)", () => {
  it("are taken as they stand: no, on, y, null, 007 and 12e3 are names of beds", () => {
    const words = ["no", "on", "y", "null", "007", "7", "12e3"]
    const read = garden(withBeds(words.map((word) => `  - { id: ${word}, name: bed ${word}, size: 3 m2 }`).join("\n")))
    expect(read.beds.map((bed) => bed.id)).toEqual(words)
    const names = ["no", "1.0", "0x1F", "true", "2025-09-20", "12:30", ".5"]
    const named = garden(withBeds(names.map((name, n) => `  - { id: bed-${n}, name: ${name}, size: 3 m2 }`).join("\n")))
    expect(named.beds.map((bed) => bed.name)).toEqual(names)
  })

  it("mean the same with quotes and without", () => {
    const plain = garden(text("config/garden.yaml").replaceAll('"', ""))
    expect(plain).toEqual(garden(text("config/garden.yaml")))
    expect(plain.people[0]?.phone).toBe("+17175550142")
    expect(plain.people[0]?.digest?.at).toBe(17 * 60)
  })

  it("are the same in JSON, indented by spaces or tabs", () => {
    const yaml = text("config/garden.yaml")
    // Failsafe reading keeps every scalar a string, so that the JSON holds what the YAML shows.
    const plain = parse(yaml, { schema: "failsafe" })
    for (const indent of ["", "  ", "\t"])
      expect(garden(JSON.stringify(plain, null, indent), "garden.json")).toEqual(garden(yaml))
    const asNumbers = JSON.stringify({
      $schema: "x",
      ...plain,
      place: { ...plain.place, latitude: 40.04, longitude: -76.31 },
    })
    expect(garden(asNumbers, "garden.json")).toEqual(garden(yaml))
  })

  it("keep the share of each species in percent or as fractions, made whole", () => {
    const shares = (species: string) =>
      garden(withBeds(`  - { id: a, size: 3 m2, sowings: [{ sown: 2025-09-20, species: ${species} }] }`)).beds[0]
        ?.sowings[0]?.species
    const expected = [
      { id: "hairy-vetch", share: 0.4 },
      { id: "winter-rye", share: 0.6 },
    ]
    for (const written of [
      "{ hairy-vetch: 40, winter-rye: 60 }",
      "{ hairy-vetch: 0.4, winter-rye: 0.6 }",
      "{ hairy-vetch: 40%, winter-rye: 60 % }",
    ])
      expect(shares(written)).toEqual(expected)
    const thirds = shares("{ hairy-vetch: 33, winter-rye: 33, oats: 33 }")
    expect(thirds?.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12)
  })

  it("allow 29 February as a day of frost, since it is a day of some years (failure T10)", () => {
    expect(garden(text("test/fixtures/gardens/all-keys.yaml")).place.frost?.last).toBe("02-29")
  })
})

describe("the text itself", () => {
  it("may start with a byte order mark and end its lines in any way", () => {
    const source = text("config/garden.yaml")
    expect(garden(`\uFEFF${source}`)).toEqual(garden(source))
    expect(garden(source.replaceAll("\n", "\r\n"))).toEqual(garden(source))
  })

  it("names the garden by the stem of its file", () => {
    expect(gardenIdOf("config/garden.yaml")).toBe("garden")
    expect(gardenIdOf("/srv/gardens/Long Acre.2.yaml")).toBe("long-acre-2")
    expect(gardenIdOf("C:\\gardens\\Südbeet.json")).toBe("sudbeet")
    expect(gardenIdOf("ß.yaml")).toBe("ss")
    expect(gardenIdOf("庭.yaml")).toBe("garden")
  })

  it("gives a garden or problems with places inside the file, whatever it is", () => {
    const source = text("config/garden.yaml")
    const cut = fc.nat(source.length)
    const noise = fc.oneof(
      fc.constantFrom("\t", ": ", "- ", "{", "}", "[", "'", '"', "&a ", "*a", "!!x ", "\0", "|", "#"),
      fc.string(),
    )
    fc.assert(
      fc.property(cut, cut, noise, (a, b, sign) => {
        const broken = source.slice(0, Math.min(a, b)) + sign + source.slice(Math.max(a, b))
        const read = readGarden(broken, "x.yaml", handbook)
        if (!("problems" in read)) return
        expect(read.problems.length).toBeGreaterThan(0)
        const lines = broken.split(/\r\n|\r|\n/)
        for (const { place } of read.problems) {
          expect(place?.line).toBeLessThanOrEqual(lines.length)
          expect(place?.column).toBeLessThanOrEqual((lines[(place?.line ?? 1) - 1]?.length ?? 0) + 1)
        }
      }),
      { numRuns: 300 },
    )
  })

  it("is refused and not followed where it nests deeper than any garden", () => {
    for (const deep of ["[".repeat(50_000), "a:\n".repeat(1), `${"{a: ".repeat(20_000)}1${"}".repeat(20_000)}`]) {
      const read = readGarden(deep, "x.yaml", handbook)
      expect("problems" in read && read.problems.length > 0).toBe(true)
    }
  })
})
