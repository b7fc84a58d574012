import { readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { contextOf } from "../../src/bot/context.ts"
import { knownWeather, viewOf, viewOn } from "../../src/bot/known.ts"
import { mindedLog } from "../../src/bot/minded.ts"
import { exampleGarden } from "../../src/garden/example-file.ts"
import { readGarden } from "../../src/garden/read.ts"
import { understand } from "../../src/replies/understand.ts"
import { prepareWords } from "../../src/replies/vocabulary.ts"
import { addDays, day } from "../../src/values/day.ts"
import { handbook } from "../given.ts"

const read = readGarden(
  readFileSync(new URL("../../config/garden.yaml", import.meta.url), "utf8"),
  "garden.yaml",
  handbook(),
)
if ("problems" in read) throw new Error("the example garden is broken")
const file = read.garden
/** Spread over a leap year, with the days on which a bare example opened with a limit that was long past. */
const days = [
  ...Array.from({ length: 12 }, (_, n) => addDays(day("2028-01-01"), n * 31)),
  day("2028-05-01"),
  day("2028-05-31"),
]

function opened(on: (typeof days)[number]) {
  const garden = exampleGarden(file, on)
  const weather = knownWeather(handbook(), garden, null)
  const log = mindedLog(handbook(), garden, weather, on)
  return { garden, weather, log, view: viewOf(handbook(), garden, log, weather, on) }
}

describe("the example, minded until the day one looks", () => {
  it.each(days)("opens on %s with something to do for the person who types, and with no limit that is past", (on) => {
    const { view, log } = opened(on)
    const due = view.reminders.filter((each) => each.person === "ines" && each.state === "due")
    expect(due.flatMap((each) => each.words)).toContain("UP")
    for (const { id, kind, days: named } of due) if (kind === "cut") expect(named.by! >= on, id).toBe(true)
    expect(log.map((entry) => entry.seq)).toEqual(log.map((_, index) => index + 1))
    expect(log.map((entry) => entry.at)).toEqual(log.map((entry) => entry.at).toSorted((a, b) => a - b))
    for (const entry of log)
      if (entry.kind === "reply") expect(entry.acts[0]).toHaveProperty("on", expect.stringMatching(/^\d/))
  })

  it("is told in words that mean what stands beside them", () => {
    const words = prepareWords(handbook())
    const { garden, weather, log } = opened(day("2028-05-01"))
    const names = log.flatMap((entry) => (entry.kind === "reply" ? entry.acts.map((act) => act.act) : []))
    expect(new Set(names)).toEqual(new Set(["watered", "observe", "cut"]))
    for (const entry of log) {
      if (entry.kind !== "reply") continue
      const before = viewOn(handbook(), garden, log.slice(0, entry.seq - 1), weather, exampleDay(entry.acts[0]))
      const person = garden.people.find((each) => each.id === entry.by)!
      expect(understand(entry.text, contextOf(before, person, words, entry.at)).acts, entry.text).toEqual(entry.acts)
    }
  })

  it("leaves a garden alone in which nothing was sown", () => {
    const bare = { ...file, beds: file.beds.map((bed) => ({ ...bed, sowings: [] })) }
    expect(mindedLog(handbook(), bare, knownWeather(handbook(), bare, null), day("2028-05-01"))).toEqual([])
  })
})

function exampleDay(act: { act: string } | undefined) {
  return act && "on" in act ? (act.on as (typeof days)[number]) : day("2028-05-01")
}
