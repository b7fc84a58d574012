import { seedForBed } from "../agronomy/seed-rate.ts"
import type { SowingRecord } from "../garden/facts.ts"
import type { Bed } from "../garden/garden.ts"
import { addDays, type Day, earlier, later } from "../values/day.ts"
import type { AskPlan, SowingPlan, SpeciesPlan } from "./bed-plan.ts"
import { cautionsOf } from "./cautions.ts"
import { type Course, courseOf, inTimeForCrop } from "./course.ts"
import { nitrogenCredit } from "./credit.ts"
import { frostWindow } from "./frost-window.ts"
import { hazardsOf } from "./hazards.ts"
import { type Parts, residueMembers } from "./parts.ts"
import { atSowing, remarksOf } from "./remarks.ts"
import { inUsualWeather, type Setting } from "./setting.ts"
import { resowBy, sowWindow } from "./sow-window.ts"
import { sowingState } from "./sowing-state.ts"
import { factsOf, lastSeen, type Member, type Stand } from "./stand.ts"
import { waterPlan } from "./water.ts"
import { noCutReason, springAsk } from "./winter.ts"
import { sentence } from "./words.ts"

/** The plan of one sowing. `records` are all sowings of its bed, oldest first. */
export function planSowing(
  record: SowingRecord,
  records: readonly SowingRecord[],
  bed: Bed,
  setting: Setting,
): SowingPlan {
  const { on, handbook } = setting
  const { sowing } = record
  const glass = bed.kind === "greenhouse"
  const mix = sowing.species.flatMap(({ id }) => handbook.species.get(id) ?? [])
  const sown = record.sown !== null && record.sown <= on ? record.sown : null
  const season = sown ? null : sowWindow(mix, record.sown ?? sowing.planned ?? on, glass, setting)
  const courseFrom = rememberedCourses(record, records, bed, setting)
  const usual = inUsualWeather(setting)
  const usualFrom = usual === setting ? courseFrom : rememberedCourses(record, records, bed, usual)
  const sow = season && inTimeForCrop(season, (day) => usualFrom(day, season.by), setting)
  const from = sown ?? (sow ? later(earlier(later(sow.from, on), sow.by), sow.from) : on)
  const course = courseFrom(from, sow?.by ?? null)
  const { stand, ground, wish, parts, ending, cut, rest, next } = course
  const open = ending.on === null
  const wasCut = lastCut(stand)
  const regrowthCheck = wasCut && open ? checkAfter(wasCut.on, setting) : null
  const growing = open && sown !== null
  const notes = open && wasCut === null ? atSowing(stand, wish, setting) : []
  return {
    sowing: sowing.id,
    bed: bed.id,
    state: sowingState({
      on,
      sown,
      endedOn: ending.on,
      planted: ending.planted,
      parts,
      wasCut,
      regrowthCheck,
      noRegrowth: wasCut !== null && (lastSeen(stand, "no-regrowth") ?? "") > wasCut.on,
      ready: next?.ready.likely ?? rest?.transplants.likely ?? null,
    }),
    sown,
    planned: sowing.planned,
    then: sowing.then,
    species: stand.members.map(speciesPlan),
    sow,
    ...(sown ? {} : { seed: seedForBed(sowing.species, bed.area_m2, handbook) }),
    resowBy: sown ? resowBy(mix, sown, glass, setting) : null,
    noCut: open && cut === null ? noCutReason(uncut(stand), setting) : null,
    cut,
    wasCut,
    regrowthCheck,
    rest: rest && { transplants: rest.transplants, smallSeed: rest.smallSeed, why: rest.why },
    next,
    nitrogen: rest && nitrogenCredit(stand, residueMembers(parts), rest, setting),
    water: open ? waterPlan(stand, setting) : null,
    watchBoot: growing ? before(cut?.from, ask(parts.standing, "boot")) : null,
    watchBloom: growing ? before(cut?.by, ask(parts.standing, "bloom")) : null,
    frost: growing ? frostWindow(stand, setting) : null,
    springAsk: growing ? springAsk(leftToFrost(stand, parts), ground, setting) : null,
    endedOn: ending.on,
    hazards:
      rest && open
        ? hazardsOf(residueMembers(parts), rest, wish?.found ?? null, cut?.carryOff ?? false, ground, setting)
        : [],
    cautions: cautionsOf(stand.members, sowing.then, cut !== null, setting),
    remarks: open ? remarksOf(stand, parts, cut, next, wish, setting) : [],
    ...(notes.length > 0 ? { atSowing: notes } : {}),
  }
}

/** The course of a sowing from any day, each worked out once: the window's days are asked for more than once. */
function rememberedCourses(record: SowingRecord, records: readonly SowingRecord[], bed: Bed, setting: Setting) {
  const known = new Map<string, Course>()
  return (from: Day, sowBy: Day | null): Course => {
    const key = `${from} ${sowBy}`
    const course = known.get(key) ?? courseOf(record, records, bed, from, sowBy, setting)
    known.set(key, course)
    return course
  }
}

/** A stand with those members alone that frost is to kill or is believed to have killed. */
function leftToFrost(stand: Stand, parts: Parts): Stand {
  return { ...stand, members: [...parts.dying, ...parts.dead] }
}

function uncut(stand: Stand): Member[] {
  return stand.members.filter((member) => member.cut === null && member.gone?.how !== "not-up")
}

function lastCut(stand: Stand): SowingPlan["wasCut"] {
  const last = factsOf(stand, "cut").at(-1)
  return last ? { on: last.on, then: last.then ?? stand.record.sowing.then } : null
}

function checkAfter(cutOn: Day, setting: Setting): { opens: Day; lapses: Day } {
  const { from, to } = setting.cutting.regrowthCheck_days
  return { opens: addDays(cutOn, from), lapses: addDays(cutOn, to) }
}

/** The question worth most of those that the members' estimates would ask. */
function ask(members: readonly Member[], which: "boot" | "bloom"): AskPlan | null {
  const open = members.flatMap((member) => {
    const days = member.regrownOn === null ? member.stages.ask[which] : null
    return days ? [{ member, days }] : []
  })
  const most = open.toSorted((a, b) => b.member.stages.worth[which] - a.member.stages.worth[which])[0]
  if (!most) return null
  const worth = Math.round(most.member.stages.worth[which])
  const why = `A look now narrows the cutting date by about ${worth} ${worth === 1 ? "day" : "days"}.`
  return { ...most.days, species: most.member.species.id, why }
}

/** A question that can still move the cut: the boot before its window opens, the bloom before it shuts. */
function before(day: Day | undefined, question: AskPlan | null): AskPlan | null {
  return question && day !== undefined && question.opens > day ? null : question
}

function speciesPlan(member: Member): SpeciesPlan {
  const { stages } = member
  return {
    id: member.species.id,
    share: member.share,
    emergence: stages.emergence,
    heading: stages.heading,
    firstFlower: stages.firstFlower,
    viableSeed: stages.viableSeed,
    frostKill: stages.frostKill,
    ...(stages.noBloom === null ? {} : { noBloom: stages.noBloom }),
    ...(stages.learned === undefined ? {} : { learned: `${sentence(stages.learned)}.` }),
    ...(member.gone === null ? {} : { gone: member.gone }),
  }
}
