import { addDays, type Day } from "../values/day.ts"
import type { CutWindow, SowingPlan, SowingState } from "./bed-plan.ts"
import { type Member, upOn } from "./stand.ts"

/** What a state follows from. */
export type Standing = {
  on: Day
  sown: Day | null
  endedOn: Day | null
  planted: boolean
  /** Members that stand green as far as known or believed. */
  standing: readonly Member[]
  cut: CutWindow | null
  wasCut: SowingPlan["wasCut"]
  regrowthCheck: SowingPlan["regrowthCheck"]
  /** Nothing came back: reported. */
  noRegrowth: boolean
  /** The rest of what is down has begun: cut, or dead. */
  down: boolean
  ready: Day | null
}

/** Days after coming up until a stand counts as growing. */
const SEEDLING_DAYS = 14

/** Where a sowing stands: a pure function of what was seen and what is reckoned. */
export function sowingState(standing: Standing): SowingState {
  const { on } = standing
  if (standing.planted) return "planted"
  if (standing.endedOn !== null && standing.endedOn <= on) return "ended"
  if (standing.sown === null) return "planned"
  if (standing.down) {
    if (standing.ready !== null && on >= standing.ready) return "ready"
    const check = standing.regrowthCheck
    return standing.wasCut && check && !standing.noRegrowth && on <= check.lapses ? "cut" : "resting"
  }
  return growth(standing.standing, on)
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
  if (member.seen.some((one) => ["bloom", "full-bloom", "seed", "seed-drop"].includes(one.what)))
    return member.regrownOn === null
  const flower = member.stages.firstFlower
  return flower !== null && member.regrownOn === null && on >= flower.late
}

function isUp(member: Member, on: Day): boolean {
  if (member.seen.some((one) => !["not-up", "frost-killed", "no-bloom"].includes(one.what))) return true
  const last = member.seen.findLast((one) => one.what === "not-up")
  return on >= member.stages.emergence.late && (last === undefined || on > addDays(last.on, SEEDLING_DAYS))
}
