import type { Bed } from "../garden/garden.ts"
import type { Day } from "../values/day.ts"
import type { BedPlan, GardenPlan } from "./bed-plan.ts"
import { planSowing } from "./plan-sowing.ts"
import { type Known, type Setting, settingOf } from "./setting.ts"

export type { Known } from "./setting.ts"

/**
 * The plan of a garden as known at the end of a day: a pure function of garden, log, weather and day. A bed's plan hangs on
 * no other bed, but for what the stages seen there teach of a species.
 */
export function planGarden(known: Known, on: Day): GardenPlan {
  const setting = settingOf(known, on)
  return { on, garden: known.garden.name, beds: known.garden.beds.map((bed) => planBed(bed, setting)) }
}

function planBed(bed: Bed, setting: Setting): BedPlan {
  const records = setting.history.beds.get(bed.id) ?? []
  return { bed: bed.id, sowings: records.map((record) => planSowing(record, records, bed, setting)) }
}
