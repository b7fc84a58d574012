import { seedLimit } from "./member-stages.ts"
import type { Setting } from "./setting.ts"
import type { Member, Stand } from "./stand.ts"
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

/** Sorts the members of a stand; those that never came up are left out. */
export function partsOf(stand: Stand, setting: Setting): Parts {
  const parts: Parts = { standing: [], dying: [], down: [], living: [], dead: [] }
  for (const member of stand.members) {
    if (member.gone?.how === "not-up") continue
    if (member.gone) parts.dead.push(member)
    else if (member.cut) (livesOn(member) ? parts.living : parts.down).push(member)
    else if (presumedDead(member, setting)) parts.dead.push(member)
    else if (frostWillKill(member, setting) && !seedsBeforeFrost(member, setting)) parts.dying.push(member)
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

function seedsBeforeFrost(member: Member, setting: Setting): boolean {
  const limit = seedLimit(member, setting.cutting)
  const when = member.stages.frostKill.when
  return limit !== null && when !== null && limit.by < when.likely
}
