import { addDays, type Day, dayFromNumber, earlier, later } from "../values/day.ts"
import type { SowingPlan } from "./bed-plan.ts"
import type { Setting } from "./setting.ts"
import type { Member, Stand } from "./stand.ts"
import { dayWords, odds, speciesWords, warmth } from "./words.ts"

/** Days ahead of a forecast frost on which it is worth saying. */
const AHEAD_DAYS = 2

/** The frost to speak of: one that the forecast brings, else the season's odds; null where none is likely to kill anything. */
export function frostWindow(stand: Stand, setting: Setting): SowingPlan["frost"] {
  const green = stand.members.filter(
    (member) => member.gone === null && member.cut === null && member.survivedOn === null,
  )
  return forecastFrost(green, setting) ?? seasonFrost(green, setting)
}

function forecastFrost(green: readonly Member[], setting: Setting): SowingPlan["frost"] {
  const { course } = setting
  for (let i = setting.course.on + 1 - course.first; i < course.tmin_c.length && course.known[i] === 1; i += 1) {
    const cold = course.tmin_c[i]!
    const hit = green.filter((member) => cold <= member.stages.frostKill.temperature_c.high)
    if (hit.length === 0) continue
    const d = dayFromNumber(course.first + i)
    const names = wordsOf(hit, setting)
    return {
      opens: later(setting.on, addDays(d, -AHEAD_DAYS)),
      lapses: d,
      species: hit.map((member) => member.species.id),
      why: `${warmth(cold, setting.garden.place.units)} is forecast for ${dayWords(d)}, cold enough to kill ${names}.`,
    }
  }
  return null
}

function seasonFrost(green: readonly Member[], setting: Setting): SowingPlan["frost"] {
  const { expected } = setting.cutting.killedByWinter
  const hit = green.filter(
    (member) => member.stages.frostKill.when !== null && member.stages.frostKill.chance >= expected,
  )
  const first = hit[0]
  if (!first) return null
  const whens = hit.map((member) => member.stages.frostKill.when!)
  const opens = whens.reduce<Day>((d, when) => earlier(d, when.early), whens[0]!.early)
  const lapses = whens.reduce<Day>((d, when) => later(d, when.late), whens[0]!.late)
  const chance = Math.min(...hit.map((member) => member.stages.frostKill.chance))
  return {
    opens,
    lapses,
    species: hit.map((member) => member.species.id),
    why: `In ${odds(chance)} winters here frost kills ${wordsOf(hit, setting)}, by your normals.`,
  }
}

function wordsOf(members: readonly Member[], setting: Setting): string {
  return speciesWords(
    setting.handbook,
    members.map((member) => member.species.id),
  )
}
