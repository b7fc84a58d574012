import type { KnownWeather } from "../agronomy/weather-series.ts"
import type { Stage } from "../garden/acts.ts"
import type { BedKind } from "../garden/garden.ts"
import type { Development } from "../handbook/development.ts"
import type { Species } from "../handbook/species.ts"
import type { Day } from "../values/day.ts"
import type { Range } from "../values/range.ts"
import type { Learned } from "./learned.ts"

/** A stage that a gardener saw, or looked for and did not see (`not-up`, `no-bloom`). */
export type Seen = { what: Stage; on: Day }

export type EstimateInput = {
  species: Species
  /** Fitted or published parameters of the species' development; undefined: reckoned from the species' own figures. */
  development: Development | undefined
  /** The day it was sown, or is planned for. */
  sown: Day
  /** The program stands at the end of this day. */
  on: Day
  weather: KnownWeather
  bed: BedKind
  observed: readonly Seen[]
  /** What the garden's own past seasons taught. */
  learned?: Learned
}

/** Days on which an answer is worth asking for. */
export type AskDays = { opens: Day; lapses: Day }

export type StageEstimates = {
  emergence: Range
  /** Grasses only: last leaf fully out. */
  flagLeaf: Range | null
  boot: Range | null
  heading: Range | null
  firstFlower: Range | null
  viableSeed: Range | null
  /** The chance that it lives until its first seed can grow; 1 where a stand that flowers is not in doubt. */
  ripens: number
  /** Why no flower is expected in this growing season; null where one is. */
  noBloom: string | null
  /** What the garden's own seasons taught of the flower, where that moved it: one clause. */
  learned?: string
  frostKill: { temperature_c: { low: number; high: number }; chance: number; when: Range | null }
  /** Days by which the range of the first flower (`boot`) or of viable seed (`bloom`) is expected to narrow by a report. */
  worth: { boot: number; bloom: number }
  /** When to ask for the last leaf or the boot, and for the first bloom; null where the answer is known or of no use. */
  ask: { boot: AskDays | null; bloom: AskDays | null }
}
