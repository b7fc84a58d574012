import { type Ground, type GroundFacts, groundOf } from "../agronomy/soil-warmth.ts"
import { heldWater, litres, shortage } from "../agronomy/watering.ts"
import { indexIn } from "../agronomy/weather-course.ts"
import { addDays, type Day, later } from "../values/day.ts"
import type { WaterPlan } from "./bed-plan.ts"
import type { Setting } from "./setting.ts"
import { alive, factsOf, type Stand, upOn } from "./stand.ts"

/** The ground of a stand: the bed's own where something was measured or watered in it. */
export function groundOfStand(stand: Pick<Stand, "facts" | "bed">, setting: Setting): Ground {
  const facts = groundFacts(stand, setting)
  if (facts.soil.length === 0 && facts.watered.length === 0) return setting.ground(stand.bed.kind)
  return groundOf(setting.course, stand.bed.kind, facts, setting.residue)
}

/** What was measured of a bed's ground: soil, watering, rain. */
function groundFacts(stand: Pick<Stand, "facts">, setting: Setting): GroundFacts {
  return {
    soil: stand.facts.flatMap((fact) =>
      fact.fact === "measured" && fact.what === "soil_c" ? [{ on: fact.on, value_c: fact.value }] : [],
    ),
    watered: stand.facts.flatMap((fact) => (fact.fact === "watered" ? [fact.on] : [])),
    rain: setting.history.rain.filter((one) => one.on <= setting.on),
  }
}

/** Water that a bed is short of on the day: the seedbed until the last seedlings are up, then the roots of the young stand. */
export function waterPlan(stand: Stand, setting: Setting): WaterPlan | null {
  const { watering, on } = setting
  const loam = (depth: number) => {
    const { low, high } = heldWater("loam", depth, watering)
    return (low + high) / 2
  }
  if (!stand.sown) {
    const depth = loam(watering.seedbed_mm.value)
    return plan(depth, stand, "Enough to wet the seedbed once it is sown.")
  }
  const members = alive(stand)
  if (members.length === 0 || factsOf(stand, "cut").length > 0) return null
  const up = members.reduce<Day>((d, member) => later(d, upOn(member)), stand.from)
  const facts = groundFacts(stand, setting)
  const course = setting.course
  if (on <= up) {
    const layer = {
      from: stand.from,
      holds_mm: loam(watering.seedbed_mm.value),
      start: "empty" as const,
      loses: watering.bareSoil.value,
    }
    const found = shortage(course, layer, stand.bed.kind, facts, watering)
    return short(found, 0.1 * layer.holds_mm, stand, "the seedbed must stay damp until it is up", setting)
  }
  if (on > addDays(up, watering.youngStand_days.value)) return null
  const layer = {
    from: up,
    holds_mm: loam(watering.rootDepth_mm.value),
    start: "full" as const,
    loses: watering.cover.value,
  }
  if (!rainIsKnown(up, stand, setting)) return null
  const found = shortage(course, layer, stand.bed.kind, facts, watering)
  return short(
    found,
    layer.holds_mm * watering.depletion.value,
    stand,
    "the young roots have used half of what the soil holds",
    setting,
  )
}

/** Without a record of the rain nobody can say whether a stand is dry; under glass none falls. */
function rainIsKnown(since: Day, stand: Stand, setting: Setting): boolean {
  if (stand.bed.kind === "greenhouse") return true
  const { course } = setting
  let known = 0
  let days = 0
  for (let i = indexIn(course, since); i <= course.on - course.first; i += 1) {
    days += 1
    if (course.known[i] === 2) known += 1
  }
  return days === 0 || known / days >= 0.7
}

function short(
  found: { short_mm: number; coming_mm: number; fell_mm: number },
  least_mm: number,
  stand: Stand,
  reason: string,
  setting: Setting,
): WaterPlan | null {
  const coming = found.coming_mm >= setting.watering.rainCounts_mm.value ? found.coming_mm : 0
  const mm = found.short_mm - coming
  if (found.short_mm < least_mm) return plan(0, stand, "The soil is damp enough.")
  if (mm < least_mm) return plan(0, stand, `The rain that is told for tomorrow (${Math.round(coming)} mm) will do.`)
  const rain = found.fell_mm >= 1 ? `, after ${Math.round(found.fell_mm)} mm of rain` : ""
  return plan(mm, stand, `It is about ${Math.round(mm)} mm short${rain}: ${reason}.`)
}

function plan(mm: number, stand: Stand, why: string): WaterPlan {
  return { water_l: Math.round(litres(mm, stand.bed.area_m2) * 10) / 10, why }
}
