import { describe, expect, test } from "vitest"
import { prepareWeather } from "../../src/agronomy/ensemble.ts"
import { frostOn } from "../../src/agronomy/frost-kill.ts"
import { OPEN_GROUND } from "../../src/agronomy/weather-tape.ts"
import { day, dayNumber, daysBetween } from "../../src/values/day.ts"
import { aGarden } from "../given.ts"
import { weatherOf } from "../season/given.ts"

const sown = day("2025-08-30")
const after = (d: string) => daysBetween(sown, day(d))
const oats = (survived: string | null) =>
  frostOn({
    outlook: prepareWeather(weatherOf(aGarden()), day("2026-03-21")),
    killing: { low: -14.4, high: -7 },
    sown: dayNumber(sown),
    from: 7,
    until: after("2026-07-01"),
    survivedOn: survived === null ? null : after(survived),
    warmth: OPEN_GROUND,
  }).kill(after("2026-07-01"))

describe("a stand seen alive after the winter", () => {
  test("is not killed by nights no colder than those it lived through", () => {
    expect(oats(null).chance).toBeGreaterThan(0.8)
    expect(oats("2026-03-20").chance).toBeLessThan(0.05)
  })
  test("is still in danger of the colder nights to come", () => {
    const early = oats("2025-11-20").chance
    expect(early).toBeGreaterThan(0.5)
    expect(oats("2026-01-20").chance).toBeLessThan(early)
  })
})

describe("a stand that no night is left to", () => {
  test("is killed by none", () => {
    const none = frostOn({
      outlook: prepareWeather(weatherOf(aGarden()), day("2026-03-21")),
      killing: { low: -14.4, high: -7 },
      sown: dayNumber(sown),
      from: 40,
      until: 30,
      survivedOn: null,
      warmth: OPEN_GROUND,
    })
    expect(none.kill(35)).toEqual({ chance: 0, when: null })
  })
})
