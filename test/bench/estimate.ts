import { madeYears } from "../../src/agronomy/made-years.ts"
import type { DailyWeather, KnownWeather } from "../../src/agronomy/weather-series.ts"
import { normalsOf } from "../../src/agronomy/weather-tape.ts"
import { climateOf } from "../../src/garden/place-climate.ts"
import type { Climate } from "../../src/handbook/climate.ts"
import { estimateStages } from "../../src/season/estimate.ts"
import { planGarden } from "../../src/season/plan.ts"
import { addDays, day, dayNumber, daysBetween } from "../../src/values/day.ts"
import { aBed, aGarden, aSowing, handbook, historyOf } from "../given.ts"

const FIRST = day("2005-01-01")
const LAST = day("2026-04-01")
const ESTIMATES = 1_000
const ids = [...handbook().species.keys()].sort()

/** Twenty years of daily weather made of a climate's normals: the same every time. */
function dailyWeather(climate: Climate): DailyWeather {
  const normal = normalsOf(climate)
  const years = madeYears(climate)
  const length = daysBetween(FIRST, LAST) + 1
  const off = (i: number) => years[Math.floor(i / 366) % years.length]![i % 366]!
  return {
    first: dayNumber(FIRST),
    tmin_c: Float64Array.from({ length }, (_, i) => normal.tmin_c[i % 366]! + off(i)),
    tmax_c: Float64Array.from({ length }, (_, i) => normal.tmax_c[i % 366]! + off(i)),
    rain_mm: new Float64Array(length).fill(2.5),
  }
}

/** A garden of so many beds, one sowing of one cover in each. */
function gardenOf(beds: number) {
  return aGarden({
    beds: Array.from({ length: beds }, (_, i) =>
      aBed({
        id: `bed-${i}`,
        sowings: [
          aSowing({
            bed: `bed-${i}`,
            sown: addDays(day("2025-08-20"), (i * 7) % 60),
            species: [{ id: ids[i % ids.length]!, share: 1 }],
            next: { crop: "tomato", wanted: day("2026-05-25") },
          }),
        ],
      }),
    ),
  })
}

/** Processor time of a piece of work, ms: what others do on the machine at the time does not count. */
function cpu(work: () => void): number {
  const before = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(before)
  return (user + system) / 1000
}

const middleOf = (times: number[]) => times.sort((a, b) => a - b)[times.length >> 1]!

/** Tells what 1,000 estimates over twenty years of daily weather take, and a plan on a new day of weather. */
export function estimateBench(say: (line: string) => void): void {
  let sum = 0
  const yardstick = middleOf(
    Array.from({ length: 9 }, () =>
      cpu(() => {
        for (let i = 0; i < 1_000_000; i += 1) sum += Math.exp(-(i % 100) / 50)
      }),
    ),
  )
  const climate = climateOf(aGarden().place, handbook())
  const weather: KnownWeather = { lat: 40.04, lon: -76.31, observed: dailyWeather(climate), forecast: null, climate }
  const estimate = (i: number) => {
    const id = ids[i % ids.length]!
    estimateStages({
      species: handbook().species.get(id)!,
      development: handbook().development.get(id),
      sown: addDays(day("2025-08-01"), (i * 13) % 120),
      on: LAST,
      weather,
      bed: "plot",
      observed: [],
    })
  }
  for (let i = 0; i < ids.length; i += 1) estimate(i)
  const memory = process.memoryUsage.rss()
  const all = cpu(() => {
    for (let i = 0; i < ESTIMATES; i += 1) estimate(i)
  })
  const times = (ms: number) => `${ms.toFixed(2)} ms   ${(ms / yardstick).toFixed(3)} times a million exp()`
  say(`estimates and plans over 20 years of daily weather (processor time)${Number.isNaN(sum) ? "?" : ""}`)
  say(`  a million exp()                      ${times(yardstick)}`)
  say(`  one estimate, of ${ESTIMATES.toLocaleString("en")}               ${times(all / ESTIMATES)}`)
  const more = Math.max(0, process.memoryUsage.rss() - memory)
  say(`  memory: ${mb(process.memoryUsage.rss())} in all, ${mb(more)} more than after one of each species`)
  for (const observed of [weather.observed, null])
    for (const beds of [16, 200]) {
      const garden = gardenOf(beds)
      const history = historyOf(garden)
      const known = { handbook: handbook(), garden, history, weather: { ...weather, observed } }
      const plan = (k: number) => cpu(() => planGarden(known, addDays(day("2026-03-20"), k)))
      plan(0)
      const runs = Array.from({ length: 9 }, (_, k) => plan(k + 1))
      const what = `  a plan of ${beds} sowings, ${observed ? "one day on" : "by normals"}`
      say(`${what.padEnd(39)}${times(middleOf(runs))}`)
    }
}

function mb(bytes: number): string {
  return `${Math.round(bytes / 1e6)} MB`
}

if (import.meta.main) estimateBench((line) => console.log(line))
