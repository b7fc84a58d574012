import { addDays, type Day } from "../values/day.ts"
import type { SowingPlan, SowingState } from "./bed-plan.ts"
import type { Parts } from "./parts.ts"
import { type Member, upOn } from "./stand.ts"

/** What a state follows from. */
export type Standing = {
  on: Day
  sown: Day | null
  endedOn: Day | null
  planted: boolean
  parts: Parts
  wasCut: SowingPlan["wasCut"]
  regrowthCheck: SowingPlan["regrowthCheck"]
  /** Nothing came back: reported. */
  noRegrowth: boolean
  /** The day on which the bed is likely ready for what comes next. */
  ready: Day | null
}

/** Days after coming up until a stand counts as growing. */
const SEEDLING_DAYS = 14

/** Where a sowing stands: a pure function of what was seen and what is reckoned. */
export function sowingState(standing: Standing): SowingState {
  const { on, parts } = standing
  if (standing.planted) return "planted"
  if (standing.endedOn !== null && standing.endedOn <= on) return "ended"
  if (standing.sown === null) return "planned"
  const green = [...parts.standing, ...parts.dying]
  if (green.length > 0) return growth(green, on)
  const check = standing.regrowthCheck
  const watched = standing.wasCut !== null && check !== null && !standing.noRegrowth && on <= check.lapses
  if (parts.living.length > 0) return watched ? "cut" : "growing"
  if (parts.down.length + parts.dead.length === 0) return "sown"
  if (standing.ready !== null && on >= standing.ready) return "ready"
  return watched ? "cut" : "resting"
}

function growth(members: readonly Member[], on: Day): SowingState {
  if (members.some((member) => blooms(member, on))) return "blooming"
  const grown = members.some((member) => {
    const stage = member.seen.some((one) => ["flag-leaf", "boot", "heading", "no-bloom"].includes(one.what))
    return stage || (isUp(member, on) && on >= addDays(upOn(member), SEEDLING_DAYS))
  })
  if (grown) return "growing"
  return members.some((member) => isUp(member, on)) ? "up" : "sown"
}

function blooms(member: Member, on: Day): boolean {
  if (member.regrownOn !== null) return false
  if (member.seen.some((one) => ["bloom", "full-bloom", "seed", "seed-drop"].includes(one.what))) return true
  const flower = member.stages.firstFlower
  return flower !== null && on >= flower.late
}

function isUp(member: Member, on: Day): boolean {
  if (member.seen.some((one) => !["not-up", "frost-killed", "no-bloom"].includes(one.what))) return true
  const last = member.seen.findLast((one) => one.what === "not-up")
  return on >= member.stages.emergence.late && (last === undefined || on > addDays(last.on, SEEDLING_DAYS))
}
