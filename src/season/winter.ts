import { type Ground, warmFrom } from "../agronomy/soil-warmth.ts"
import { addDays, type Day, dayOf, partsOf } from "../values/day.ts"
import type { AskPlan } from "./bed-plan.ts"
import type { Setting } from "./setting.ts"
import { alive, type Member, type Stand } from "./stand.ts"
import { odds, speciesWords } from "./words.ts"

/** Is frost expected to kill this member before anything else ends it? A chance, never a fact: reports settle it. */
export function frostWillKill(member: Member, setting: Setting): boolean {
  const { chance, when } = member.stages.frostKill
  return (
    member.gone === null &&
    member.survivedOn === null &&
    member.cut === null &&
    when !== null &&
    chance >= setting.cutting.killedByWinter.expected
  )
}

/** The day a member died or is believed to die of frost; null where neither. */
export function frostKillDay(member: Member, setting: Setting): Day | null {
  if (member.gone?.how === "frost-killed") return member.stages.frostKill.when?.likely ?? member.gone.on
  return frostWillKill(member, setting) ? member.stages.frostKill.when!.likely : null
}

/** Believed dead by now, without a report. */
export function presumedDead(member: Member, setting: Setting): boolean {
  return frostWillKill(member, setting) && setting.on > member.stages.frostKill.when!.late
}

/** The day from which the soil can be worked after a kill: at once in the warm half of the year, else when spring warms it. */
export function workableFrom(ground: Ground, killedOn: Day, setting: Setting): Day {
  const { year, month } = partsOf(killedOn)
  const south = setting.weather.lat < 0
  // The cold half begins in September (March in the south); a kill in it waits for the turn of the year.
  const inCold = south ? month >= 3 && month <= 7 : month >= 9 || month <= 1
  const turn = south ? dayOf(year, 7, 15)! : dayOf(month >= 9 ? year + 1 : year, 1, 15)!
  const from = inCold && turn > killedOn ? turn : killedOn
  return warmFrom(ground, from, setting.residue.soil.workable_c) ?? from
}

/** Why no cut is due; null where one may be. */
export function noCutReason(members: readonly Member[], setting: Setting): string | null {
  const { handbook } = setting
  const dead = members.filter((member) => member.gone?.how === "frost-killed")
  const dying = members.filter((member) => frostWillKill(member, setting))
  if (members.length === 0 || dead.length + dying.length < members.length) return null
  if (dying.length === 0) return `The frost has killed it: leave it lying, no cut is needed.`
  const chance = Math.min(...dying.map((member) => member.stages.frostKill.chance))
  const what = speciesWords(
    handbook,
    dying.map((member) => member.species.id),
  )
  if (dying.every((member) => presumedDead(member, setting)))
    return `Frost has probably killed the ${what} by now (${odds(chance)}), so no cut is due. Leave it lying, and look for green at the crowns.`
  return `Frost will probably kill the ${what} (${odds(chance)}), so no cut is due. Leave it lying, and look in spring.`
}

/** A question for spring: did the winter kill what it was likely to kill? */
export function springAsk(stand: Stand, ground: Ground, setting: Setting): AskPlan | null {
  const open = alive(stand).filter((member) => frostWillKill(member, setting))
  const first = open[0]
  if (!stand.sown || !first) return null
  const opens = workableFrom(ground, first.stages.frostKill.when!.late, setting)
  const what = speciesWords(
    setting.handbook,
    open.map((member) => member.species.id),
  )
  return {
    opens,
    lapses: addDays(opens, setting.cutting.springAsk_days.value),
    species: first.species.id,
    why: `The ${what} should have died of frost (${odds(first.stages.frostKill.chance)}), but seed lots differ: look for green at the crowns.`,
  }
}
