import { describe, expect, it } from "vitest"
import type { Act } from "../../src/garden/acts.ts"
import { lastChangeBy } from "../../src/garden/effective.ts"
import type { Entry, NewEntry, Told } from "../../src/garden/entry.ts"
import type { Bed, Garden, Sowing } from "../../src/garden/garden.ts"
import { readHistory } from "../../src/garden/history.ts"
import { day } from "../../src/values/day.ts"
import { addMs, DAY_MS, instant } from "../../src/values/instant.ts"
import { zone } from "../../src/values/zone.ts"

const start = instant("2026-05-01T12:00:00Z")

function sowing(bed: string, at: string, species: string[], sown = true): Sowing {
  const shares = species.map((id) => ({ id, share: 1 / species.length }))
  return {
    id: `${bed}:${at}`,
    bed,
    sown: sown ? day(at) : null,
    planned: sown ? null : day(at),
    species: shares,
    then: "leave",
    next: null,
  }
}

function garden(...beds: [string, Sowing[]][]): Garden {
  return {
    id: "acre",
    name: "Acre",
    place: {
      latitude: 40,
      longitude: -76,
      elev_m: null,
      zone: zone("America/New_York"),
      units: "us",
      dates: "month-first",
      normals: null,
      frost: null,
    },
    people: [],
    beds: beds.map(([id, sowings]): Bed => ({ id, name: id, also: [], kind: "raised", area_m2: 3, sowings })),
  }
}

function log(...entries: NewEntry[]): Entry[] {
  return entries.map((entry, index) => ({ ...entry, seq: index + 1 }) as Entry)
}

const reply = (acts: Act[], days = 0): NewEntry => ({
  at: addMs(start, days * DAY_MS),
  garden: "acre",
  by: "ines",
  via: "terminal",
  kind: "reply",
  text: "words",
  acts,
})
const undo = (undone: number): NewEntry => ({
  at: start,
  garden: "acre",
  by: "ines",
  via: "terminal",
  kind: "undo",
  undone,
})
const sent = (...told: Told[]): NewEntry => ({
  at: start,
  garden: "acre",
  by: "ryebell",
  via: "terminal",
  kind: "sent",
  to: "ines",
  text: "text",
  told,
})

const south = sowing("south", "2025-09-20", ["hairy-vetch", "winter-rye"])

describe("the history of a garden", () => {
  it("turns done with a number into the fact that the reminder asked for", () => {
    const entries = log(
      sent({ n: 4, id: "south:2025-09-20:cut:1", kind: "cut", bed: "south" }),
      reply([{ act: "done", n: [4], on: day("2026-05-02") }], 1),
    )
    const history = readHistory(entries, garden(["south", [south]]))
    expect(history.beds.get("south")?.[0]?.facts).toEqual([
      { fact: "cut", species: [], then: null, on: "2026-05-02", seq: 2 },
    ])
    expect(history.reminders.get("south:2025-09-20:cut:1")?.settled).toMatchObject({
      how: "done",
      on: "2026-05-02",
      by: "ines",
    })
  })

  it("counts a cut that is told by number and in words of one text once, with where the tops went", () => {
    const entries = log(
      sent({ n: 1, id: "south:2025-09-20:cut:1", kind: "cut", bed: "south" }),
      reply([
        { act: "done", n: [1], on: day("2026-05-02") },
        { act: "cut", bed: "south", species: [], then: "carry-off", on: day("2026-05-02") },
      ]),
    )
    expect(readHistory(entries, garden(["south", [south]])).beds.get("south")?.[0]?.facts).toEqual([
      { fact: "cut", species: [], then: "carry-off", on: "2026-05-02", seq: 2 },
    ])
  })

  it("forgets what was undone, and remembers it again where the undo is undone", () => {
    const bloom = reply([{ act: "observe", bed: "south", species: null, what: "bloom", on: day("2026-05-01") }])
    const facts = (entries: Entry[]) =>
      readHistory(entries, garden(["south", [south]])).beds.get("south")?.[0]?.facts.length
    expect(facts(log(bloom))).toBe(1)
    expect(facts(log(bloom, undo(1)))).toBe(0)
    expect(facts(log(bloom, undo(1), undo(2)))).toBe(1)
  })

  it("files what was seen under the sowing that stood in the bed that day", () => {
    const buckwheat = sowing("south", "2026-06-20", ["buckwheat"])
    const entries = log(
      reply([{ act: "observe", bed: "south", species: null, what: "bloom", on: day("2026-05-01") }]),
      reply([{ act: "observe", bed: "south", species: null, what: "bloom", on: day("2026-07-20") }], 80),
    )
    const records = readHistory(entries, garden(["south", [south, buckwheat]])).beds.get("south")
    expect(records?.map((record) => record.facts.length)).toEqual([1, 1])
  })

  it("gives a planned sowing its real day and keeps its id", () => {
    const planned = sowing("east", "2026-08-28", ["oats", "field-pea"], false)
    const entries = log(reply([{ act: "sowed", bed: "east", species: [], on: day("2026-09-01") }]))
    const record = readHistory(entries, garden(["east", [planned]])).beds.get("east")?.[0]
    expect(record?.sown).toBe("2026-09-01")
    expect(record?.sowing.id).toBe("east:2026-08-28")
  })

  it("adds a sowing that the file does not know", () => {
    const entries = log(reply([{ act: "sowed", bed: "south", species: ["buckwheat"], on: day("2026-07-01") }]))
    const records = readHistory(entries, garden(["south", [south]])).beds.get("south")
    expect(records?.map((record) => record.sowing.id)).toEqual(["south:2025-09-20", "south:2026-07-01"])
  })

  it("moves the day of a stand that never came up and was sown again, but not of one that was filled in", () => {
    const again = (seen: "patchy" | "not-up") =>
      readHistory(
        log(
          reply([{ act: "observe", bed: "south", species: null, what: seen, on: day("2025-10-04") }]),
          reply([{ act: "sowed", bed: "south", species: [], on: day("2025-10-06") }]),
        ),
        garden(["south", [south]]),
      ).beds.get("south")?.[0]?.sown
    expect(again("not-up")).toBe("2025-10-06")
    expect(again("patchy")).toBe("2025-09-20")
  })

  it("reports entries whose bed or sowing left the file, with the nearest sowing", () => {
    const moved = sowing("south", "2025-09-25", ["hairy-vetch"])
    const entries = log(
      sent({ n: 1, id: "south:2025-09-20:cut:1", kind: "cut", bed: "south" }),
      reply([{ act: "done", n: [1], on: day("2026-05-02") }]),
      reply([{ act: "watered", bed: "gone", on: day("2026-05-02") }]),
    )
    expect(readHistory(entries, garden(["south", [moved]])).orphans).toEqual([
      { seq: 2, named: "south:2025-09-20:cut:1", nearest: "south:2025-09-25" },
      { seq: 3, named: "gone", nearest: null },
    ])
  })

  it("keeps pauses, stops and holds per person and channel", () => {
    const history = readHistory(
      log(reply([{ act: "pause", until: day("2026-06-01") }]), reply([{ act: "stop" }]), {
        at: start,
        garden: "acre",
        by: "ryebell",
        via: "email",
        kind: "channel",
        person: "ines",
        channel: "mail",
        state: "held",
        because: "550",
      }),
      garden(["south", [south]]),
    )
    expect(history.paused.get("ines")?.until).toBe("2026-06-01")
    expect(history.channels.get("ines")).toEqual({ text: "stopped", mail: "held" })
  })

  it("takes the last change that still counts as the one a bare undo means", () => {
    const entries = log(
      reply([{ act: "observe", bed: "south", species: null, what: "boot", on: day("2026-05-01") }]),
      reply([{ act: "tell", about: "next", bed: null, n: null }]),
      reply([{ act: "observe", bed: "south", species: null, what: "bloom", on: day("2026-05-01") }]),
      undo(3),
    )
    expect(lastChangeBy(entries, "ines")?.seq).toBe(1)
  })
})
