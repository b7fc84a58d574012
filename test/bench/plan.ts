import { climateOf } from "../../src/garden/place-climate.ts"
import { planGarden } from "../../src/season/plan.ts"
import { addDays, day } from "../../src/values/day.ts"
import { aBed, aGarden, aSowing, handbook, historyOf } from "../given.ts"

const species = [...handbook().species.keys()]

/** A garden of so many beds, each with a mix of two covers and a crop wanted. */
function gardenOf(beds: number) {
  return aGarden({
    beds: Array.from({ length: beds }, (_, i) =>
      aBed({
        id: `bed-${i}`,
        sowings: [
          aSowing({
            bed: `bed-${i}`,
            sown: addDays(day("2025-08-20"), i % 60),
            species: [
              { id: species[i % species.length]!, share: 0.5 },
              { id: species[(i * 7 + 3) % species.length]!, share: 0.5 },
            ],
            next: { crop: "tomato", wanted: day("2026-05-25") },
          }),
        ],
      }),
    ),
  })
}

/** Milliseconds of the middle run of several, after one to warm up. */
function middleOf(runs: number, work: () => void): number {
  work()
  const times = Array.from({ length: runs }, () => {
    const start = performance.now()
    work()
    return performance.now() - start
  })
  return times.sort((a, b) => a - b)[Math.floor(runs / 2)]!
}

/** Tells how long 200 beds and 16 sowings take to plan, as multiples of a plain loop on the same machine. */
export async function planBench(say: (line: string) => void): Promise<void> {
  let sum = 0
  const yardstick = middleOf(9, () => {
    for (let i = 0; i < 1_000_000; i += 1) sum += Math.exp(-(i % 100) / 50)
  })
  const garden200 = gardenOf(200)
  const garden16 = gardenOf(16)
  const times = (ms: number) => `${ms.toFixed(1)} ms   ${(ms / yardstick).toFixed(2)} times a million exp()`
  say("planning, two covers a bed, a crop wanted")
  say(`  a million exp()   ${times(yardstick)}${Number.isNaN(sum) ? "?" : ""}`)
  say(`  200 beds          ${times(middleOf(9, () => plan(garden200)))}`)
  say(`  16 beds           ${times(middleOf(9, () => plan(garden16)))}`)
}

function plan(garden: ReturnType<typeof gardenOf>): void {
  const climate = climateOf(garden.place, handbook())
  const weather = { lat: 40.04, lon: -76.31, observed: null, forecast: null, climate }
  planGarden({ handbook: handbook(), garden, history: historyOf(garden), weather }, day("2026-04-01"))
}
if (import.meta.main) await planBench((line) => console.log(line))
