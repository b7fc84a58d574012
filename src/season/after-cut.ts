import type { Ground } from "../agronomy/soil-warmth.ts"
import type { Then } from "../garden/garden.ts"
import { type Day, later } from "../values/day.ts"
import type { Range } from "../values/range.ts"
import type { CutWindow, NextPlan } from "./bed-plan.ts"
import type { Outlook } from "./cut-window.ts"
import { readyFor, type Wish, wantedDay } from "./next-crop.ts"
import { type Parts, residueMembers } from "./parts.ts"
import { endedByReport, laterRest, type Rest, residueOf, restAfterCut, restAfterWinter } from "./rest.ts"
import type { Setting } from "./setting.ts"
import type { Member, Stand } from "./stand.ts"
import { waysOut } from "./ways-out.ts"
import { frostKillDay } from "./winter.ts"
import { cropWord, dayWords } from "./words.ts"

/** What a cut on each day would lead to, for the choice of the best one. */
export function outlookOf(stand: Stand, parts: Parts, wish: Wish | null, ground: Ground, setting: Setting): Outlook {
  const then = thenFor(parts.standing, stand.record.sowing.then, false)
  const known = new Map<Day, Range>()
  const need = wish?.found?.nitrogen.need
  const hungry = then === "turn-in" && (need === "heavy" || need === "medium-heavy" || need === "medium")
  const above = setting.nitrogen.tieUpAbove_cn.value
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
    hunger: (d) => (hungry ? Math.max(0, (residueOf(parts.standing, d, setting).cn.likely - above) / above) : 0),
  }
}

/**
 * The rest of a bed: after the cut that was made, else after the best day for it (today, where that has passed); beside it
 * the rest of what winter killed. Where one cut kills not all of it, the bed is reckoned as turned in.
 */
export function restOf(
  stand: Stand,
  parts: Parts,
  cut: CutWindow | null,
  ground: Ground,
  setting: Setting,
): Rest | null {
  const { then: usual } = stand.record.sowing
  const rests: Rest[] = []
  if (parts.standing.length > 0) {
    if (!cut) return null
    const then = thenFor(parts.standing, usual, cut.carryOff)
    rests.push(restAfterCut(parts.standing, later(cut.best, setting.on), then, ground, setting))
  } else if (parts.living.length > 0) {
    rests.push(restAfterCut([...parts.living, ...parts.down], setting.on, "turn-in", ground, setting))
  } else if (parts.down.length > 0) {
    const last = parts.down.reduce((a, b) => (b.cut!.on > a.cut!.on ? b : a)).cut!
    rests.push(restAfterCut(parts.down, last.on, last.then, ground, setting))
  }
  for (const member of [...parts.dying, ...parts.dead]) {
    const on = frostKillDay(member, setting)
    if (on) rests.push(restAfterWinter([member], on, ground, setting))
  }
  if (rests.length === 0) return null
  const rest = rests.reduce(laterRest)
  // What still stands cannot have broken down.
  return parts.standing.length + parts.living.length > 0 ? rest : endedByReport(rest, stand)
}

/** The crop that is to follow, held against the rest. */
export function nextOf(
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
  const members = residueMembers(parts)
  const cutOn = cut ? later(cut.best, setting.on) : null
  const ways = fits ? [] : waysOut({ stand, members, wish, wanted, rest, ready, cutOn, ground }, setting)
  const crop = cropWord(setting.handbook, wish.crop)
  const when = `The bed should be ready about ${dayWords(ready.likely)}`
  const why = fits
    ? `${when}, in time for ${crop} on ${dayWords(wanted)}.`
    : `${when}, too late for ${crop} on ${dayWords(wanted)}.`
  return { crop: wish.crop, wanted, fits, ready, ways, why }
}

/** The way of killing that the rest is reckoned with: as planned, carried off where it is podded, turned in where no cut kills. */
function thenFor(members: readonly Member[], then: Then, carryOff: boolean): Then {
  if (then === "turn-in" || then === "tarp") return then
  if (members.some((member) => member.species.cut.killedFrom === "never")) return "turn-in"
  return carryOff ? "carry-off" : then
}
