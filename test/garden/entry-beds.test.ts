import { describe, expect, it } from "vitest"
import type { Entry, NewEntry } from "../../src/garden/entry.ts"
import { bedsOfEntries } from "../../src/garden/entry-beds.ts"
import { numbered } from "../../src/garden/read-log.ts"
import { day } from "../../src/values/day.ts"
import { instant } from "../../src/values/instant.ts"

const AT = instant("2026-05-13T12:00:00Z")
const ON = day("2026-05-13")
const bot = { at: AT, garden: "long-acre", by: "ryebell", via: "sms" } as const
const ines = { ...bot, by: "ines" } as const
const told = (n: number, bed: string) => ({ n, id: `${bed}:2025-09-20:cut:1`, kind: "cut" as const, bed })

function beds(...entries: NewEntry[]): string[][] {
  const log: Entry[] = entries.map((entry, i) => numbered(entry, i + 1))
  const found = bedsOfEntries(log)
  return log.map((entry) => found.get(entry.seq) ?? ["missing"])
}

describe("the beds of an entry", () => {
  it("are those that its acts name, each once", () => {
    const acts = [
      { act: "observe", bed: "south", species: null, what: "bloom", on: ON },
      { act: "cut", bed: "north", species: [], then: null, on: ON },
      { act: "watered", bed: "south", on: ON },
    ] as const
    expect(beds({ ...ines, kind: "reply", text: "x", acts: [...acts] as never })).toEqual([["south", "north"]])
    expect(beds({ ...ines, kind: "reply", text: "lovely evening", acts: [] })).toEqual([[]])
  })

  it("are those of the numbers in a reply, as its sender was told them last", () => {
    expect(
      beds(
        { ...bot, kind: "sent", to: "ines", text: "x", told: [told(1, "south"), told(2, "north")] },
        { ...bot, kind: "sent", to: "omar", text: "x", told: [told(1, "kitchen")] },
        { ...ines, kind: "reply", text: "done 1", acts: [{ act: "done", n: [1], on: ON }] },
        { ...bot, kind: "sent", to: "ines", text: "x", told: [told(1, "east")] },
        { ...ines, kind: "reply", text: "skip 1 and 2, 9", acts: [{ act: "skip", n: [1, 2, 9] }] },
      ),
    ).toEqual([["south", "north"], ["kitchen"], ["south"], ["east"], ["east", "north"]])
  })

  it("follow an answer, an undo, a failure, a lapse and a digest", () => {
    expect(
      beds(
        { ...ines, kind: "reply", text: "watered south", acts: [{ act: "watered", bed: "south", on: ON }] },
        { ...bot, kind: "answer", to: "ines", answers: 1, text: "Noted." },
        { ...ines, kind: "undo", undone: 1 },
        { ...bot, kind: "failed", to: "ines", of: ["north:2025-09-20:cut:1"], code: "30006", text: "landline" },
        { ...bot, kind: "lapsed", of: "east:2025-09-20:cut:1", because: "over" },
        { ...bot, kind: "digest", to: "ines", week: "2026-W20", told: [told(1, "south")] },
        { ...bot, kind: "channel", person: "ines", channel: "text", state: "stopped", because: "STOP" },
      ),
    ).toEqual([["south"], ["south"], ["south"], ["north"], ["east"], ["south"], []])
  })
})
