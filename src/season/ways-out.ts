import type { Ground } from "../agronomy/soil-warmth.ts"
import type { Then } from "../garden/garden.ts"
import { addDays, type Day, daysBetween, later } from "../values/day.ts"
import type { Range } from "../values/range.ts"
import type { WayOut } from "./bed-plan.ts"
import { readyFor, type Wish } from "./next-crop.ts"
import { type Rest, restAfterCut } from "./rest.ts"
import type { Setting } from "./setting.ts"
import type { Member, Stand } from "./stand.ts"
import { upOn } from "./stand.ts"
import { cropWord, dayWords, listed } from "./words.ts"

/** What the ways out are held against. */
export type Bind = {
  stand: Stand
  members: readonly Member[]
  wish: Wish
  wanted: Day
  /** The plan as it stands. */
  rest: Rest
  ready: Range
  /** The cut is still to come, on this day; null where it was made. */
  cutOn: Day | null
  ground: Ground
}

const COSTS = {
  "carry-off": "the bed keeps only the roots: little of the nitrogen stays, and no mulch",
  "turn-in": "digging, and the soil lies bare; no mulch for the summer",
  tarp: "a dark sheet, weighted down, for three to four weeks",
} as const satisfies Record<Exclude<Then, "leave">, string>

/** What can still be done where a bed will not be ready in time, each with its date and its cost; the soonest first. */
export function waysOut(bind: Bind, setting: Setting): WayOut[] {
  const ways = [younger(bind, setting), ...otherMethods(bind, setting)]
    .filter((way) => way !== null)
    .filter((way) => way.ready.likely < bind.ready.likely)
    .sort((a, b) => (a.ready.likely < b.ready.likely ? -1 : a.ready.likely > b.ready.likely ? 1 : 0))
  const late = daysBetween(bind.wanted, bind.ready.likely)
  const weeks = Math.round(late / 7)
  ways.push({
    way: `plant later, about ${dayWords(bind.ready.likely)}`,
    ready: bind.ready,
    cost:
      weeks < 2 ? `${late} ${late === 1 ? "day" : "days"} later than wanted` : `about ${weeks} weeks later than wanted`,
  })
  const other = otherCrop(bind, setting)
  if (other) ways.push(other)
  return ways
}

/** Cut before the plants are ripe for it: the last day that still makes it in time, else the soonest. */
function younger(bind: Bind, setting: Setting): WayOut | null {
  if (bind.cutOn === null) return null
  const up = bind.members.reduce<Day>((d, member) => later(d, upOn(member)), bind.stand.from)
  const first = later(setting.on, addDays(up, setting.cutting.youngestCut_days.value))
  if (first >= bind.cutOn) return null
  let found: { cut: Day; ready: Range } | null = null
  for (let cut = addDays(bind.cutOn, -1); cut >= first; cut = addDays(cut, -1)) {
    const ready = readyIf(bind, cut, bind.rest.then, setting)
    if (!found || ready.likely < found.ready.likely) found = { cut, ready }
    if (ready.likely <= bind.wanted) break
  }
  if (!found) return null
  return {
    way: `cut younger, by ${dayWords(found.cut)}`,
    ready: found.ready,
    cost: "it may come back green: look ten days on and cut again; less growth and less nitrogen",
  }
}

function otherMethods(bind: Bind, setting: Setting): (WayOut | null)[] {
  const cut = bind.cutOn ?? later(setting.on, bind.rest.from)
  return (["carry-off", "turn-in", "tarp"] as const).map((then) => {
    if (then === bind.rest.then || bind.rest.winterKilled) return null
    // Tops that lie since the cut can still be carried off, turned in or covered; what rotted until then counts.
    const from = bind.cutOn === null && then === "carry-off" ? bind.rest.from : cut
    const ready = atSoonest(readyIf(bind, from, then, setting), setting.on)
    const words = {
      "carry-off": "carry the tops to the compost",
      "turn-in": "turn it in",
      tarp: "cover it with a tarp",
    }[then]
    const when = bind.cutOn === null ? "now" : `on ${dayWords(cut)}`
    return { way: `${words} ${when}`, ready, cost: COSTS[then] }
  })
}

/** Crops that this bed would be ready for on the day wanted, as it stands. */
function otherCrop(bind: Bind, setting: Setting): WayOut | null {
  const covers = new Set(bind.members.map((member) => member.species.family))
  const fitting = [...setting.handbook.crops.values()].flatMap((crop) => {
    if (crop.id === bind.wish.crop || covers.has(crop.family) || crop.weeksFromLastFrost === undefined) return []
    if (setting.frosts.last === null) return []
    const ready = readyFor(crop, bind.rest, bind.ground, bind.stand, setting)
    if (ready.likely > bind.wanted) return []
    return inSeason(crop.weeksFromLastFrost, bind.wanted, setting) ? [{ crop, ready }] : []
  })
  const first = fitting[0]
  if (!first) return null
  const some = fitting.slice(0, 3)
  const ready = some.reduce((a, b) => (b.ready.likely > a.ready.likely ? b : a)).ready
  const names = listed(some.map(({ crop }) => cropWord(setting.handbook, crop.id)))
  return { way: `plant another crop, such as ${names}`, ready, cost: "not the crop that was planned" }
}

function inSeason(weeks: { low: number; high: number }, d: Day, setting: Setting): boolean {
  const year = d.slice(0, 4)
  const last = `${year}-${setting.frosts.last}` as Day
  return d >= addDays(last, weeks.low * 7) && d <= addDays(last, Math.max(weeks.high, weeks.low + 4) * 7)
}

function readyIf(bind: Bind, cut: Day, then: Then, setting: Setting): Range {
  const rest = restAfterCut(bind.members, cut, then, bind.ground, setting)
  return readyFor(bind.wish.found, rest, bind.ground, bind.stand, setting)
}

function atSoonest(range: Range, on: Day): Range {
  return { ...range, early: later(range.early, on), likely: later(range.likely, on), late: later(range.late, on) }
}
