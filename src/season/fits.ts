import { nearestYearly } from "../agronomy/frost-dates.ts"
import { type SeedAmount, seedForBed } from "../agronomy/seed-rate.ts"
import type { SowingRecord } from "../garden/facts.ts"
import type { Bed } from "../garden/garden.ts"
import { middle } from "../handbook/figure.ts"
import type { Caution, Species } from "../handbook/species.ts"
import { addDays, type Day, daysBetween, earlier, later } from "../values/day.ts"
import type { Range } from "../values/range.ts"
import type { SowingPlan } from "./bed-plan.ts"
import { planSowing } from "./plan-sowing.ts"
import { carriesOver, tooSoon, yearsAway } from "./rotation.ts"
import { type Known, type Setting, settingOf } from "./setting.ts"
import { spanFor } from "./sow-window.ts"
import { seasonOf } from "./sowing-season.ts"
import { cropWord, dayWords, odds, sentence, speciesWord } from "./words.ts"

/** The time between two food crops in a bed. */
export type Gap = {
  bed: string
  from: Day
  to: Day
  days: number
  /** The crop that is to follow, where it is known. */
  next: string | null
}

/** How one cover does in a gap. */
export type Fit = {
  species: string
  fits: boolean
  /** Sentences: what speaks for it, and why it does not fit where it does not. */
  why: string[]
  sow: { from: Day; by: Day } | null
  firstFlower: Range | null
  /** The chance that winter kills it before the gap ends. */
  winterKill: { chance: number; when: Range | null }
  ready: Range | null
  seed: SeedAmount | null
  water_l: number
  cautions: Caution[]
}

export type Fits = { gap: Gap; covers: Fit[] }

/** A gap shorter than this holds no cover: even buckwheat wants five weeks. Common practice. */
const SHORTEST_DAYS = 28

/**
 * Which covers fit the gap of a bed, best first, and why the others do not. Without days the gap runs from the day the
 * bed is free to the next crop wanted in it, else to the usual end of the season.
 */
export function fitsFor(
  known: Known,
  bed: Bed,
  on: Day,
  asked: { from?: Day | undefined; to?: Day | undefined } = {},
): Fits {
  // A gap that lies back is looked at from its first day, as if nothing had been missed yet.
  const setting = settingOf(known, asked.from ? earlier(on, asked.from) : on)
  const gap = gapOf(bed, asked, setting)
  const covers = [...setting.handbook.species.values()]
    .map((species) => ({ ...fitOf(species, bed, gap, setting), rank: rankOf(species, gap, setting) }))
    .sort((a, b) => Number(b.fits) - Number(a.fits) || a.rank - b.rank || (a.species < b.species ? -1 : 1))
    .map(({ rank, ...fit }) => fit)
  return { gap, covers }
}

/** The gap as asked for, filled up from the garden. */
function gapOf(bed: Bed, asked: { from?: Day | undefined; to?: Day | undefined }, setting: Setting): Gap {
  const from = asked.from ?? later(setting.on, freeFrom(bed, setting))
  const wish = nextWish(bed, from, setting)
  const to = asked.to ?? wish?.wanted ?? seasonEnd(from, setting)
  return { bed: bed.id, from, to, days: daysBetween(from, to), next: wish?.crop ?? null }
}

/** The day on which the crop that was planted last should be off the bed; today where none is known. */
function freeFrom(bed: Bed, setting: Setting): Day {
  const planted = (setting.history.beds.get(bed.id) ?? [])
    .flatMap((record) => record.facts.map((fact) => ({ fact, crop: record.sowing.next?.crop ?? null })))
    .filter(({ fact }) => fact.fact === "planted" && fact.on <= setting.on)
    .at(-1)
  if (planted?.fact.fact !== "planted") return setting.on
  const crop = setting.handbook.crops.get(planted.fact.crop ?? planted.crop ?? "")
  return crop?.harvest_days ? addDays(planted.fact.on, Math.round(middle(crop.harvest_days))) : setting.on
}

/** The first crop wanted in this bed after a day. */
function nextWish(bed: Bed, from: Day, setting: Setting): { crop: string; wanted: Day } | null {
  const wishes = (setting.history.beds.get(bed.id) ?? []).flatMap((record) => {
    const said = record.facts.findLast((fact) => fact.fact === "want")
    const crop = (said?.fact === "want" ? said.crop : null) ?? record.sowing.next?.crop ?? null
    const wanted = said?.on ?? record.sowing.next?.wanted ?? null
    return crop !== null && wanted !== null && wanted > from ? [{ crop, wanted }] : []
  })
  return wishes.sort((a, b) => (a.wanted < b.wanted ? -1 : 1))[0] ?? null
}

/** Where nothing is wanted: the last spring frost after an autumn start, the first autumn frost after a spring start, else half a year. */
function seasonEnd(from: Day, setting: Setting): Day {
  const season = seasonOf(from, setting.weather.lat)
  const frost = season === "autumn" || season === "late-summer" ? setting.frosts.last : setting.frosts.first
  if (frost === null) return addDays(from, 182)
  const next = [0, 365].map((days) => nearestYearly(frost, addDays(from, days))).find((d) => d > from)
  return next ?? addDays(from, 182)
}

function fitOf(species: Species, bed: Bed, gap: Gap, setting: Setting): Fit {
  const lower = speciesWord(setting.handbook, species.id)
  const name = sentence(lower)
  const mix = [{ id: species.id, share: 1 }]
  const none: Fit = {
    species: species.id,
    fits: false,
    why: [],
    sow: null,
    firstFlower: null,
    winterKill: { chance: 0, when: null },
    ready: null,
    seed: seedForBed(mix, bed.area_m2, setting.handbook)[0] ?? null,
    water_l: 0,
    cautions: species.cautions,
  }
  if (gap.days < SHORTEST_DAYS) return { ...none, why: [`${gap.days} days are too short for any cover.`] }
  const span = spanFor(species, gap.from, bed.kind === "greenhouse", setting)
  const clash = clashOf(species, bed, gap, setting)
  if (!span || span.by < gap.from || span.from > addDays(gap.to, -SHORTEST_DAYS)) {
    const why = span
      ? span.by < gap.from
        ? `Sow ${lower} by about ${dayWords(span.by)} here.`
        : `Sow ${lower} from about ${dayWords(span.from)} here, which is too late in this gap.`
      : `There is no sowing season for ${lower} at this time of year here.`
    return { ...none, why: [why, ...clash] }
  }
  const sowOn = later(gap.from, span.from)
  const season = species.sowing.seasons[seasonOf(sowOn, setting.weather.lat)]
  const planned = planSowing(hypothesis(species, bed, sowOn, gap), [], bed, setting)
  const member = planned.species[0]!
  const against = [
    ...(season.fit === "no" || season.fit === "poor"
      ? [`${name}, sown then, does poorly. ${season.note ?? ""}`.trim()]
      : []),
    ...tooLate(planned, name, gap),
    ...clash,
  ]
  return {
    ...none,
    fits: against.length === 0,
    why: against.length > 0 ? against : inFavour(planned, species, name, gap),
    sow: { from: sowOn, by: planned.sow?.by ?? span.by },
    firstFlower: member.firstFlower,
    winterKill: { chance: member.frostKill.chance, when: member.frostKill.when },
    ready: planned.next?.ready ?? planned.rest?.transplants ?? null,
    water_l: planned.water?.water_l ?? 0,
  }
}

/** The sowing that is tried: this species alone, sown in the gap, with the next crop wanted at its end. */
function hypothesis(species: Species, bed: Bed, sowOn: Day, gap: Gap): SowingRecord {
  return {
    sowing: {
      id: `${bed.id}:${sowOn}`,
      bed: bed.id,
      sown: null,
      planned: sowOn,
      species: [{ id: species.id, share: 1 }],
      then: "leave",
      next: { crop: gap.next ?? "plants", wanted: gap.to },
    },
    sown: null,
    facts: [],
  }
}

/** Families that should not follow one another. */
function clashOf(species: Species, bed: Bed, gap: Gap, setting: Setting): string[] {
  const { handbook } = setting
  const name = sentence(speciesWord(handbook, species.id))
  const next = gap.next === null ? undefined : handbook.crops.get(gap.next)
  const why = carriesOver(species.family, setting)
  if (next && next.family === species.family && why)
    return [`Skip ${name.toLowerCase()}: ${cropWord(handbook, next.id)} of the same family comes next, and ${why}.`]
  const before = tooSoon(species.family, bed, gap.from, setting)
  if (before && why && yearsAway(species.family, setting) > 1)
    return [`${name} is of the family of ${before.name.toLowerCase()} (${before.on.slice(0, 4)}), and ${why}.`]
  return []
}

/** Why a cover would not be out of the way in time. */
function tooLate(planned: SowingPlan, name: string, gap: Gap): string[] {
  const next = planned.next
  if (!next || next.fits) return []
  const flower = planned.species[0]!.firstFlower
  const flowers = flower ? `would flower about ${dayWords(flower.likely)} and ` : "would "
  return [`${name} ${flowers}leave the bed ready only about ${dayWords(next.ready.likely)}, after ${dayWords(gap.to)}.`]
}

function inFavour(planned: SowingPlan, species: Species, name: string, gap: Gap): string[] {
  const member = planned.species[0]!
  const { chance, when } = member.frostKill
  const why: string[] = []
  if (planned.noCut && when)
    why.push(`${name} should die of frost (${odds(chance)}) before ${dayWords(gap.to)}: no cut is needed.`)
  else if (member.firstFlower && planned.cut)
    why.push(`${name} should flower about ${dayWords(member.firstFlower.likely)}; cut by ${dayWords(planned.cut.by)}.`)
  else why.push(`${name} will cover the ground; no flower is expected in this gap.`)
  if (species.cut.killedFrom === "never")
    why.push("One cut does not kill it: it must be turned in or covered with a tarp.")
  if (planned.next) why.push(`The bed is ready about ${dayWords(planned.next.ready.likely)}.`)
  if (species.kind === "legume") why.push(`It brings nitrogen; use ${species.inoculant ?? "its own"} inoculant.`)
  return why
}

/** Lower is better: the sowing season first, then how much of the gap it uses. */
function rankOf(species: Species, gap: Gap, setting: Setting): number {
  const { fit } = species.sowing.seasons[seasonOf(gap.from, setting.weather.lat)]
  return { good: 0, ok: 1, poor: 2, no: 3 }[fit]
}
