import { seedForBed } from "../agronomy/seed-rate.ts"
import { type Ground, groundOf } from "../agronomy/soil-warmth.ts"
import type { SowingRecord } from "../garden/facts.ts"
import type { Bed, Then } from "../garden/garden.ts"
import { addDays, type Day, earlier, later } from "../values/day.ts"
import type { AskPlan, CutWindow, NextPlan, SowingPlan, SpeciesPlan } from "./bed-plan.ts"
import { cautionsOf } from "./cautions.ts"
import { nitrogenCredit } from "./credit.ts"
import { cutDays, cutWindow, type Outlook } from "./cut-window.ts"
import { frostWindow } from "./frost-window.ts"
import { hazardsOf } from "./hazards.ts"
import { killedFrom, seedLimit } from "./member-stages.ts"
import { readyFor, type Wish, wantedDay, wishOf } from "./next-crop.ts"
import { remarksOf } from "./remarks.ts"
import { endedByReport, laterRest, type Rest, residueOf, restAfterCut, restAfterWinter } from "./rest.ts"
import type { Setting } from "./setting.ts"
import { resowBy, sowWindow } from "./sow-window.ts"
import { sowingState } from "./sowing-state.ts"
import { alive, factsOf, lastSeen, type Member, type Stand, standOf } from "./stand.ts"
import { groundFacts, waterPlan } from "./water.ts"
import { waysOut } from "./ways-out.ts"
import { frostKillDay, frostWillKill, noCutReason, presumedDead, springAsk } from "./winter.ts"
import { cropWord, dayWords } from "./words.ts"

/** The plan of one sowing. `records` are all sowings of its bed, oldest first. */
export function planSowing(
  record: SowingRecord,
  records: readonly SowingRecord[],
  bed: Bed,
  setting: Setting,
): SowingPlan {
  const { on } = setting
  const { sowing } = record
  const isSown = record.sown !== null && record.sown <= on
  const sow = isSown
    ? null
    : sowWindow(speciesOf(record, setting), record.sown ?? sowing.planned ?? on, bed.kind === "greenhouse", setting)
  const from = isSown
    ? (record.sown as Day)
    : later(earlier(later((sow as { from: Day }).from, on), (sow as { by: Day }).by), sow!.from)
  const stand = standOf(record, bed, from, setting)
  const ground = groundOf(setting.course, bed.kind, groundFacts(stand, setting), setting.residue)
  const wish = wishOf(stand, setting)
  const parts = partsOf(stand, setting)
  const ended = endOf(stand, records, sow?.by ?? null, parts, setting)
  const cut =
    ended.on === null && parts.standing.length > 0
      ? cutWindow(stand, parts.standing, outlookOf(stand, parts, wish, ground, setting), setting)
      : null
  const rest = restOf(stand, parts, cut, ground, setting)
  const next = rest && wish ? nextOf(stand, parts, cut, rest, wish, ground, setting) : null
  const wasCut = lastCut(stand)
  const regrowthCheck = wasCut && ended.on === null ? checkAfter(wasCut.on, setting) : null
  const green = [...parts.standing, ...parts.dying]
  return {
    sowing: sowing.id,
    bed: bed.id,
    state: sowingState({
      on,
      sown: isSown ? from : null,
      endedOn: ended.on,
      planted: ended.planted,
      standing: green,
      cut,
      wasCut,
      regrowthCheck,
      noRegrowth: wasCut !== null && (lastSeen(stand, "no-regrowth") ?? "") > wasCut.on,
      down:
        isSown && parts.standing.length === 0 && parts.dying.length === 0 && parts.down.length + parts.dead.length > 0,
      ready: next?.ready.likely ?? rest?.transplants.likely ?? null,
    }),
    sown: isSown ? from : null,
    planned: sowing.planned,
    then: sowing.then,
    species: stand.members.map(speciesPlan),
    sow: sow === null ? null : sow,
    ...(isSown ? {} : { seed: seedForBed(sowing.species, bed.area_m2, setting.handbook) }),
    resowBy: isSown ? resowBy(speciesOf(record, setting), from, bed.kind === "greenhouse", setting) : null,
    noCut:
      cut === null && ended.on === null
        ? noCutReason(
            stand.members.filter((member) => member.cut === null && member.gone?.how !== "not-up"),
            setting,
          )
        : null,
    cut,
    wasCut,
    regrowthCheck,
    rest: rest === null ? null : { transplants: rest.transplants, smallSeed: rest.smallSeed, why: rest.why },
    next,
    nitrogen: rest === null ? null : nitrogenCredit(stand, restMembers(parts), rest, setting),
    water: ended.on === null ? waterPlan(stand, setting) : null,
    watchBoot: ended.on === null && isSown ? ask(parts.standing, "boot") : null,
    watchBloom: ended.on === null && isSown ? ask(parts.standing, "bloom") : null,
    frost: ended.on === null && isSown ? frostWindow(stand, setting) : null,
    springAsk: ended.on === null ? springAsk(stand, ground, setting) : null,
    endedOn: ended.on,
    hazards:
      rest === null || ended.on !== null
        ? []
        : hazardsOf(restMembers(parts), rest, wish?.found ?? null, cut?.carryOff ?? false, ground, setting),
    cautions: cautionsOf(stand.members, sowing.then, cut !== null, setting),
    remarks: ended.on === null ? remarksOf(stand, parts, cut, next, wish, setting) : [],
  }
}

/** The members of a stand by what is to be done with them. */
export type Parts = {
  /** Green and to be cut. */
  standing: Member[]
  /** Green, and frost is expected to kill them before they seed. */
  dying: Member[]
  /** Cut and not seen to come back. */
  down: Member[]
  /** Dead of frost, as reported or as believed once the last day for it is over. */
  dead: Member[]
}

/** Sorts the members of a stand. */
export function partsOf(stand: Stand, setting: Setting): Parts {
  const parts: Parts = { standing: [], dying: [], down: [], dead: [] }
  for (const member of stand.members) {
    if (member.gone?.how === "not-up") continue
    if (member.gone) parts.dead.push(member)
    else if (member.cut) parts.down.push(member)
    else if (presumedDead(member, setting)) parts.dead.push(member)
    else if (frostWillKill(member, setting) && !seedsBeforeFrost(member, setting)) parts.dying.push(member)
    else parts.standing.push(member)
  }
  return parts
}

function seedsBeforeFrost(member: Member, setting: Setting): boolean {
  const limit = seedLimit(member, setting.cutting)
  const when = member.stages.frostKill.when
  return limit !== null && when !== null && limit.by < when.likely
}

function speciesOf(record: SowingRecord, setting: Setting) {
  return record.sowing.species.flatMap(({ id }) => setting.handbook.species.get(id) ?? [])
}

/** Does this way of killing end every member? What one cut never kills must be turned in or covered. */
function endsAll(members: readonly Member[], then: Then, setting: Setting): boolean {
  if (then === "turn-in" || then === "tarp") return true
  return !members.some((member) => killedFrom(member, setting.cutting).is === "never")
}

/** The way of killing that the rest is reckoned with: as planned, carried off where it is podded, turned in where no cut kills. */
function thenFor(members: readonly Member[], then: Then, carryOff: boolean, setting: Setting): Then {
  if (!endsAll(members, then, setting)) return "turn-in"
  return carryOff && then === "leave" ? "carry-off" : then
}

function outlookOf(stand: Stand, parts: Parts, wish: Wish | null, ground: Ground, setting: Setting): Outlook {
  const then = thenFor(parts.standing, stand.record.sowing.then, false, setting)
  const known = new Map<Day, ReturnType<typeof readyFor>>()
  const need = wish?.found?.nitrogen.need
  const hungry = then === "turn-in" && (need === "heavy" || need === "medium-heavy" || need === "medium")
  return {
    wanted: wish?.wanted ?? null,
    crop: wish ? cropWord(setting.handbook, wish.crop) : "",
    readyIfCut(d) {
      if (!wish) return null
      const before = known.get(d)
      if (before) return before
      const ready = readyFor(wish.found, restAfterCut(parts.standing, d, then, ground, setting), ground, stand, setting)
      known.set(d, ready)
      return ready
    },
    hunger(d) {
      if (!hungry) return 0
      const above = setting.nitrogen.tieUpAbove_cn.value
      return Math.max(0, (residueOf(parts.standing, d, setting).cn.likely - above) / above)
    },
  }
}

function restOf(stand: Stand, parts: Parts, cut: CutWindow | null, ground: Ground, setting: Setting): Rest | null {
  const usual = stand.record.sowing.then
  let rest: Rest | null = null
  if (parts.standing.length > 0) {
    if (!cut) return null
    rest = restAfterCut(
      parts.standing,
      cut.best,
      thenFor(parts.standing, usual, cut.carryOff, setting),
      ground,
      setting,
    )
  } else if (parts.down.length > 0) {
    const last = parts.down.reduce((a, b) => (b.cut!.on > a.cut!.on ? b : a)).cut!
    rest = restAfterCut(parts.down, last.on, thenFor(parts.down, last.then, false, setting), ground, setting)
  }
  const winter = [...parts.dying, ...parts.dead].flatMap((member) => {
    const on = frostKillDay(member, setting)
    return on ? [restAfterWinter([member], on, ground, setting)] : []
  })
  const all = [...(rest ? [rest] : []), ...winter]
  const joined = all.length === 0 ? null : all.reduce(laterRest)
  return joined && endedByReport(joined, stand)
}

function restMembers(parts: Parts): Member[] {
  if (parts.standing.length > 0) return parts.standing
  if (parts.down.length > 0) return parts.down
  return [...parts.dying, ...parts.dead]
}

function nextOf(
  stand: Stand,
  parts: Parts,
  cut: CutWindow | null,
  rest: Rest,
  wish: Wish,
  ground: Ground,
  setting: Setting,
): NextPlan {
  const ready = readyFor(wish.found, rest, ground, stand, setting)
  const wanted = wantedDay(wish, ready, setting)
  const fits = ready.likely <= wanted
  const crop = cropWord(setting.handbook, wish.crop)
  const ways = fits
    ? []
    : waysOut(
        { stand, members: restMembers(parts), wish, wanted, rest, ready, cutOn: cut?.best ?? null, ground },
        setting,
      )
  const why = fits
    ? `The bed should be ready about ${dayWords(ready.likely)}, in time for ${crop} on ${dayWords(wanted)}.`
    : `The bed should be ready about ${dayWords(ready.likely)}, too late for ${crop} on ${dayWords(wanted)}.`
  return { crop: wish.crop, wanted, fits, ready, ways, why }
}

function lastCut(stand: Stand): SowingPlan["wasCut"] {
  const last = factsOf(stand, "cut").at(-1)
  return last ? { on: last.on, then: last.then ?? stand.record.sowing.then } : null
}

function checkAfter(cutOn: Day, setting: Setting): { opens: Day; lapses: Day } {
  const { from, to } = setting.cutting.regrowthCheck_days
  return { opens: addDays(cutOn, from), lapses: addDays(cutOn, to) }
}

/** When a sowing was over: planted, followed by the next one, never sown, or given up. */
function endOf(
  stand: Stand,
  records: readonly SowingRecord[],
  sowBy: Day | null,
  parts: Parts,
  setting: Setting,
): { on: Day | null; planted: boolean } {
  const { on, cutting } = setting
  const follower = records.find(
    (other) => other !== stand.record && other.sown !== null && other.sown <= on && other.sown > stand.from,
  )
  const planted = factsOf(stand, "planted").at(-1)
  if (planted) return { on: planted.on, planted: follower === undefined }
  if (follower) return { on: follower.sown, planted: false }
  const giveUp = (d: Day, days: number) => (on > addDays(d, days) ? addDays(d, days) : null)
  if (!stand.sown) return { on: sowBy === null ? null : giveUp(sowBy, cutting.planned.giveUp_days), planted: false }
  const last = stand.facts.reduce<Day>((d, fact) => (fact.fact === "want" ? d : later(d, fact.on)), stand.from)
  const limits = parts.standing.map((member) => seedLimit(member, cutting)?.by ?? addDays(stand.from, 365))
  const downOn = parts.down.map((member) => member.cut!.on)
  const deadOn = [...parts.dying, ...parts.dead].map((member) =>
    addDays(frostKillDay(member, setting) ?? stand.from, 120),
  )
  const none = stand.members.length > 0 && alive(stand).length === 0 && parts.dead.length === 0
  const latest = [...limits, ...downOn, ...deadOn].reduce<Day>((a, b) => later(a, b), none ? last : stand.from)
  return { on: giveUp(later(latest, last), cutting.giveUp_days.value), planted: false }
}

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
    ...(member.gone === null ? {} : { gone: member.gone }),
  }
}

export { cutDays }
