import type { SpeciesPlan } from "../season/bed-plan.ts"
import { showAmount } from "../values/amount.ts"
import type { Day } from "../values/day.ts"
import { showRange } from "./dates.ts"
import { aliveSpecies, bedOfScene, type Kind, type Said, type Scene } from "./kind.ts"
import { speciesNames } from "./names.ts"

/**
 * A frost that may take a part of the stand. It only informs, so a fact never settles it: it lapses. Where frost does all
 * of the work that was left to do, nothing is to be done and only the weekly mail tells it.
 */
export const frost: Kind = {
  drafts(scene) {
    const { sowing } = scene
    if (sowing.frost === null || sowing.endedOn !== null) return []
    const { opens, lapses, species } = sowing.frost
    const alive = aliveSpecies(sowing)
    const doesOurWork = sowing.noCut !== null && alive.every((id) => species.includes(id))
    return [
      {
        ordinal: 1,
        opens,
        lapses,
        since: opens,
        days: { opens, lapses },
        mailOnly: doesOurWork,
        calls: [
          {
            call: 1,
            role: "first",
            on: opens,
            about: "opens",
            urgency: 55,
            pressing: true,
            say: (day) => words(scene, species, day),
          },
        ],
      },
    ]
  },
  settles: () => false,
}

function words(scene: Scene, ids: readonly string[], day: Day): Said {
  const bed = bedOfScene(scene)
  const plans = scene.sowing.species.filter((species) => ids.includes(species.id))
  const what = speciesNames(
    scene.handbook,
    ids,
    scene.sowing.species.map((species) => species.id),
  )
  const survivors = aliveSpecies(scene.sowing).filter((id) => !ids.includes(id))
  const rest = survivors.length > 0 ? ` The ${speciesNames(scene.handbook, survivors)} should come back.` : ""
  const when = whenOf(plans, day)
  return {
    text: `Frost may take the ${what} on ${bed}${when}.${below(plans, scene)} Leave the tops lying.${rest}`,
    short: `${bed}: frost may take the ${what}${when}. Leave the tops lying.`,
    title: `frost may take the ${what} on ${bed}`,
    words: ["WHY"],
  }
}

function below(plans: readonly SpeciesPlan[], scene: Scene): string {
  const high = Math.max(...plans.map((plan) => plan.frostKill.temperature_c.high))
  return Number.isFinite(high) ? ` It takes about ${showAmount(high, "c", scene.garden.place.units)}.` : ""
}

function whenOf(plans: readonly SpeciesPlan[], day: Day): string {
  const when = plans.map((plan) => plan.frostKill.when).find((range) => range !== null)
  if (!when || when.late < day) return ""
  return `, likely ${showRange(when.early, when.late, day)}`
}
