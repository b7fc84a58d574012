import { type Day, later } from "../values/day.ts"
import { killedFrom } from "./member-stages.ts"
import { readyFor, wishOf } from "./next-crop.ts"
import { type Rest, restAfterCut, restAfterWinter } from "./rest.ts"
import type { Setting } from "./setting.ts"
import type { Member, Stand } from "./stand.ts"
import { groundOfStand } from "./water.ts"
import { frostWillKill, presumedDead } from "./winter.ts"

/** The members of a stand by what is to be done with them. */
export type Parts = {
  /** Green and to be cut. */
  standing: Member[]
  /** Green, and frost is expected to kill them before they seed. */
  dying: Member[]
  /** Cut, and killed by it as far as seen. */
  down: Member[]
  /** Cut in a way that never kills them: they will be back. */
  living: Member[]
  /** Dead of frost, as reported or as believed once the last day for it is over. */
  dead: Member[]
}

/**
 * Sorts the members of a stand; those that never came up are left out. Frost is left to do the work where it comes before
 * live seed, and early enough for the crop that is wanted or no later than a cut would be.
 */
export function partsOf(stand: Stand, wanted: Day | null, setting: Setting): Parts {
  const parts: Parts = { standing: [], dying: [], down: [], living: [], dead: [] }
  for (const member of stand.members) {
    if (member.gone?.how === "not-up") continue
    if (member.gone) parts.dead.push(member)
    else if (member.cut) (livesOn(member) ? parts.living : parts.down).push(member)
    else if (presumedDead(member, setting)) parts.dead.push(member)
    else if (frostDoesTheWork(member, wanted, stand, setting)) parts.dying.push(member)
    else parts.standing.push(member)
  }
  return parts
}

/** The members that what comes next has to do with: the green ones to be cut, else what lies. */
export function residueMembers(parts: Parts): Member[] {
  if (parts.standing.length > 0) return parts.standing
  if (parts.living.length + parts.down.length > 0) return [...parts.living, ...parts.down]
  return [...parts.dying, ...parts.dead]
}

/** A species that no cut kills, cut and neither turned in nor covered. */
function livesOn(member: Member): boolean {
  const ended = member.cut?.then === "turn-in" || member.cut?.then === "tarp"
  return member.species.cut.killedFrom === "never" && !ended
}

function frostDoesTheWork(member: Member, wanted: Day | null, stand: Stand, setting: Setting): boolean {
  const when = member.stages.frostKill.when
  if (!frostWillKill(member, setting) || when === null) return false
  if (wanted !== null && wanted <= when.likely) return false
  if (mayRipen(member, setting)) return false
  return wanted === null || !cutIsSooner(member, when.likely, wanted, stand, setting)
}

/** Would the bed be late for the crop if it waited for the frost, and ready sooner by a cut that kills? */
function cutIsSooner(member: Member, frostOn: Day, wanted: Day, stand: Stand, setting: Setting): boolean {
  const kill = killedFrom(member, setting.cutting)
  const crop = wishOf(stand, setting)?.found ?? null
  if (kill.is !== "stage" || kill.likely >= frostOn) return false
  const ground = groundOfStand(stand, setting)
  const readyAfter = (rest: Rest) => readyFor(crop, rest, ground, stand, setting).likely
  const frozen = readyAfter(restAfterWinter([member], frostOn, ground, setting))
  if (frozen <= wanted) return false
  const { then } = stand.record.sowing
  return readyAfter(restAfterCut([member], later(setting.on, kill.likely), then, ground, setting)) < frozen
}

/** Is it more likely than the stated chance that it lives until its seed can grow? */
function mayRipen(member: Member, { cutting }: Setting): boolean {
  return member.stages.viableSeed !== null && member.stages.ripens > cutting.seedChance.value
}
