import type { Stage } from "../garden/acts.ts"
import type { SpeciesPlan } from "../season/bed-plan.ts"
import { showAmount } from "../values/amount.ts"
import { addDays, type Day, daysBetween } from "../values/day.ts"
import { rangeWidth } from "../values/range.ts"
import { showDay, showRange } from "./dates.ts"
import { aliveSpecies, bedOfScene, type Call, type Draft, type Kind, type Said, type Scene } from "./kind.ts"
import { speciesName, speciesNames } from "./names.ts"

/** What was seen so long before the question counts as its answer. */
const EARLY_LOOK = 60
/** A window so short is that of a forecast frost, as the odds of a season never are. */
const FORECAST_DAYS = 3
/** A range longer than this holds nights of two winters, and says nothing. */
const WINTER_DAYS = 130
const SEEN: readonly Stage[] = ["frost-killed", "survived-frost"]

/**
 * A frost that may take a part of the stand: the first of two only informs, and where frost does all of the work that was
 * left to do, only the weekly mail tells it. Winter-kill is a chance and never a fact, so the second asks in spring.
 */
export const frost: Kind = {
  drafts(scene) {
    if (scene.sowing.endedOn !== null) return []
    return [...warning(scene), ...springQuestion(scene)]
  },
  settles: (fact) => fact.fact === "observed" && SEEN.includes(fact.what),
}

function warning(scene: Scene): Draft[] {
  const { sowing } = scene
  if (sowing.frost === null) return []
  const { opens, lapses, species } = sowing.frost
  const doesOurWork = sowing.noCut !== null && aliveSpecies(sowing).every((id) => species.includes(id))
  const call: Call = {
    call: 1,
    role: "first",
    on: opens,
    about: "opens",
    urgency: 55,
    pressing: true,
    say: (day) => words(scene, species, day),
  }
  return [{ ordinal: 1, opens, lapses, since: opens, days: { opens, lapses }, mailOnly: doesOurWork, calls: [call] }]
}

function springQuestion(scene: Scene): Draft[] {
  const ask = scene.sowing.springAsk
  if (!ask) return []
  const { opens, lapses } = ask
  const call: Call = {
    call: 1,
    role: "first",
    on: opens,
    about: "opens",
    urgency: 44,
    pressing: false,
    say: () => springWords(scene, ask.species),
  }
  return [{ ordinal: 2, opens, lapses, since: addDays(opens, -EARLY_LOOK), days: { opens, lapses }, calls: [call] }]
}

function springWords(scene: Scene, id: string): Said {
  const bed = bedOfScene(scene)
  const what = speciesName(scene.handbook, id, aliveSpecies(scene.sowing))
  return {
    text: `Did winter take the ${what} on ${bed}? Have a look at the crowns when you pass: green there means alive.`,
    short: `Did winter take the ${what} on ${bed}?`,
    title: `see whether winter took the ${what} on ${bed}`,
    words: ["WINTERKILLED", "SURVIVED"],
  }
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
  const when = whenOf(plans, scene, day)
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

/** The day that is forecast, where it comes so near; else the range of the odds, unless that runs over more than a winter. */
function whenOf(plans: readonly SpeciesPlan[], { sowing }: Scene, day: Day): string {
  const frost = sowing.frost
  if (frost && frost.lapses >= day && daysBetween(frost.opens, frost.lapses) <= FORECAST_DAYS)
    return `, forecast for ${showDay(frost.lapses, day)}`
  const when = plans.map((plan) => plan.frostKill.when).find((range) => range !== null)
  if (!when || when.late < day || rangeWidth(when) > WINTER_DAYS) return ""
  return `, likely ${showRange(when.early, when.late, day)}`
}
