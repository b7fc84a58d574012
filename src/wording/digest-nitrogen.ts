import { middle } from "../handbook/figure.ts"
import { bedName, bedOf, cropName } from "../reminders/names.ts"
import type { SowingPlan } from "../season/bed-plan.ts"
import { showAmount } from "../values/amount.ts"
import type { DigestInput } from "./digest-facts.ts"
import { oneLine } from "./html.ts"

/** Amounts smaller than this are spoken of as little, in g per m2. */
const LITTLE_G_PER_M2 = 1

/** What each bed's cover leaves of nitrogen for the next crop, for the whole bed, and how far that goes. */
export function nitrogenLines(input: DigestInput): string[] {
  const { person, plan } = input
  return plan.beds
    .filter((each) => person.minds === null || person.minds.includes(each.bed))
    .flatMap((each) => each.sowings)
    .filter(
      (sowing) => sowing.nitrogen && sowing.state !== "planned" && sowing.state !== "sown" && sowing.state !== "ended",
    )
    .map((sowing) => lineOf(sowing, input))
}

function lineOf(sowing: SowingPlan, { garden, handbook }: DigestInput): string {
  const { low, likely, high } = sowing.nitrogen?.credit_g_per_m2 ?? { low: 0, likely: 0, high: 0 }
  const bed = bedOf(garden, sowing.bed)
  const name = oneLine(bedName(garden, sowing.bed))
  if (likely < LITTLE_G_PER_M2) {
    return `${name}: ${low < -LITTLE_G_PER_M2 ? "none yet; while the residue rots it holds some back" : "little or none"}.`
  }
  const area = bed?.area_m2 ?? 1
  const units = garden.place.units
  const amount = (g: number) => showAmount(Math.max(0, g) * area, "g", units)
  const crop = sowing.next ? handbook.crops.get(sowing.next.crop) : undefined
  const need = crop ? middle(crop.nitrogen.need_g_per_m2) : null
  const share =
    crop && need
      ? `, about ${shareWords(likely / need)} of what the next crop needs (${cropName(handbook, crop.id)})`
      : ""
  return `${name}: about ${amount(likely)} for the whole bed (${amount(low)} to ${amount(high)})${share}.`
}

/** A share as people say it. */
function shareWords(share: number): string {
  const words: [number, string][] = [
    [0.15, "a tenth"],
    [0.29, "a quarter"],
    [0.42, "a third"],
    [0.58, "half"],
    [0.71, "two thirds"],
    [0.85, "three quarters"],
  ]
  return words.find(([most]) => share < most)?.[1] ?? "all"
}
