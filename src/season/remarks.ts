import { addDays } from "../values/day.ts"
import type { CutWindow, NextPlan } from "./bed-plan.ts"
import { killedFrom } from "./member-stages.ts"
import type { Wish } from "./next-crop.ts"
import type { Parts } from "./parts.ts"
import { familyNotes, rotationRemarks } from "./rotation.ts"
import type { Setting } from "./setting.ts"
import type { Stand } from "./stand.ts"
import { odds, sentence, speciesWord, speciesWords } from "./words.ts"

/** Notes worth saying once about a sowing. */
export function remarksOf(
  stand: Stand,
  parts: Parts,
  cut: CutWindow | null,
  next: NextPlan | null,
  wish: Wish | null,
  setting: Setting,
): string[] {
  return [
    ...neverKilled(stand, setting),
    ...noBloom(stand, setting),
    ...learned(parts),
    ...firstHeads(parts, setting),
    ...winterOdds(stand, setting),
    ...(cut?.carryOff
      ? ["It may carry pods or grain by now: carry the tops off, since cut pods can still ripen live seed."]
      : []),
    ...(next && !next.fits ? [next.why] : []),
    ...rotationRemarks(stand, wish, setting),
    ...weatherGaps(setting),
  ]
}

/** What to know before the seed goes in, in short sentences: what no cut kills, and families that come back too soon. */
export function atSowing(stand: Stand, wish: Wish | null, setting: Setting): string[] {
  const tough = stand.members.filter((member) => member.species.cut.killedFrom === "never" && member.gone === null)
  const what = speciesWords(
    setting.handbook,
    tough.map((member) => member.species.id),
  )
  return [
    ...(tough.length > 0 ? [`One cut does not kill ${what}: dig it in or tarp it to end it.`] : []),
    ...familyNotes(stand, wish, setting),
  ]
}

function neverKilled(stand: Stand, setting: Setting): string[] {
  const tough = stand.members.filter((member) => member.species.cut.killedFrom === "never" && member.gone === null)
  if (tough.length === 0) return []
  const what = speciesWords(
    setting.handbook,
    tough.map((member) => member.species.id),
  )
  return [
    `One cut does not kill ${what}: mow it at each bloom, and to end it turn it in or keep it under a tarp for a month.`,
  ]
}

/** Said in the words of the estimate, after the name of the species. */
function noBloom(stand: Stand, setting: Setting): string[] {
  return stand.members.flatMap((member) => {
    const { noBloom } = member.stages
    if (noBloom === null || member.gone !== null) return []
    const why = sentence(noBloom.replace(/^No bloom expected:? ?/, ""))
    return [`No bloom is expected of the ${speciesWord(setting.handbook, member.species.id)}. ${why}`]
  })
}

/** What the garden's own seasons taught of what still stands. */
function learned(parts: Parts): string[] {
  return parts.standing.flatMap(({ stages }) => (stages.learned === undefined ? [] : [`${sentence(stages.learned)}.`]))
}

/** First heads of a grass mean get ready, pollen means cut. */
function firstHeads(parts: Parts, setting: Setting): string[] {
  return parts.standing.flatMap((member) => {
    const headed = member.seen.some((one) => one.what === "heading")
    const pollen = member.seen.some((one) => one.what === "bloom" || one.what === "full-bloom")
    const kill = killedFrom(member, setting.cutting)
    if (!headed || pollen || kill.is !== "stage" || kill.stage === "heading") return []
    return [
      `Heads show on the ${speciesWord(setting.handbook, member.species.id)}: get ready, and cut when the pollen flies.`,
    ]
  })
}

function winterOdds(stand: Stand, setting: Setting): string[] {
  const { remark, expected } = setting.cutting.killedByWinter
  return stand.members.flatMap((member) => {
    const { chance, when } = member.stages.frostKill
    if (member.gone || member.survivedOn || member.cut || when === null) return []
    if (chance < remark || chance >= expected || setting.on > when.late) return []
    return [
      `${sentence(speciesWord(setting.handbook, member.species.id))} may die of frost this winter (${odds(chance)}).`,
    ]
  })
}

/** Days of the last two weeks for which a weather source gave nothing, where one is switched on. */
function weatherGaps(setting: Setting): string[] {
  const { course, weather } = setting
  if (weather.observed === null) return []
  let missing = 0
  for (let back = 0; back < 14; back += 1) {
    const i = course.on - back - course.first
    if (i >= 0 && course.known[i] === 0) missing += 1
  }
  if (missing < 3) return []
  const since = addDays(setting.on, -13)
  return since < setting.on
    ? [`The weather of ${missing} of the last 14 days is not known; normals stand in for it.`]
    : []
}
