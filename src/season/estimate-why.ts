import type { Outlook } from "../agronomy/ensemble.ts"
import type { OwnLean, SeenStages, StagePoints } from "../agronomy/stage-points.ts"
import type { DevelopmentClock } from "../handbook/development.ts"
import type { Season } from "../handbook/species.ts"
import { dayFromNumber } from "../values/day.ts"
import type { LearnedSpecies } from "./learned.ts"

/** One sentence on what an estimate of emergence rests on. */
export function emergenceWhy(outlook: Outlook, sown: number, seen: SeenStages): string {
  if (seen.up !== null) return "You saw it come up."
  const after = seen.notUp === null ? "" : ` Not up yet on ${dayFromNumber(sown + seen.notUp)}, so later.`
  return `Warmth of the seedbed since sowing; ${weatherWords(outlook, sown)}.${after}`
}

type WhyInput = {
  clock: DevelopmentClock
  outlook: Outlook
  sown: number
  seen: SeenStages
  points: StagePoints
  lean: (OwnLean & Pick<LearnedSpecies, "why">) | null
  season: Season
}

/** One sentence on what an estimate of the flower rests on. */
export function flowerWhy({ clock, outlook, sown, seen, points, lean }: WhyInput): string {
  if (seen.flower !== null) return "You saw the first bloom."
  if (points.outside) return "What you saw lies outside what the book expects, so the range rests on your report alone."
  const rests = seen.grass
    ? `Counted on from the ${STAGE_WORDS[seen.grass.stage]} you saw on ${dayFromNumber(sown + seen.grass.at)}`
    : clock.basis.says
  const limits = [
    seen.noFlower === null ? "" : `no bloom yet on ${dayFromNumber(sown + seen.noFlower)}`,
    seen.flowerBy === null ? "" : `in bloom before ${dayFromNumber(sown + seen.flowerBy)}`,
    lean ? lean.why : "",
  ].filter((one) => one !== "")
  return [rests, weatherWords(outlook, sown), ...limits].join("; ").concat(".")
}

const STAGE_WORDS = { leaf: "last leaf", boot: "boot", heading: "heads" } as const

function weatherWords(outlook: Outlook, sown: number): string {
  const { known, ownYears, climate } = outlook
  const years =
    ownYears.length > 0
      ? `${ownYears.length} past ${ownYears.length === 1 ? "year" : "years"} of this place`
      : `the normals of ${climate.name}`
  if (!known || known.last < sown) return `weather of ${years}`
  const gaps = outlook.bridged(sown, known.last)
  const bridged = gaps === 0 ? "" : `, ${gaps} missing ${gaps === 1 ? "day" : "days"} bridged`
  const told =
    known.last > known.measured
      ? `forecast to ${dayFromNumber(known.last)}`
      : `weather known to ${dayFromNumber(known.last)}`
  return `${told}${bridged}, then ${years}`
}
