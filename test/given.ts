/**
 * Given a garden, a log and a plan, by hand and in few words. Whatever a test does not name has a plain value, so that
 * each test shows only what it is about.
 */
import type { Act } from "../src/garden/acts.ts"
import type { Entry, NewEntry, ReminderKind, Told } from "../src/garden/entry.ts"
import type { Bed, Garden, GardenPlace, Person, Sowing } from "../src/garden/garden.ts"
import { type History, readHistory } from "../src/garden/history.ts"
import type { Handbook } from "../src/handbook/handbook.ts"
import { openHandbook } from "../src/handbook/open.ts"
import type { CutWindow, GardenPlan, NextPlan, SowingPlan, SpeciesPlan } from "../src/season/bed-plan.ts"
import { type Day, day } from "../src/values/day.ts"
import type { Instant } from "../src/values/instant.ts"
import { type Range, rangeOf } from "../src/values/range.ts"
import { instantAt, zone } from "../src/values/zone.ts"

let opened: Handbook | null = null
/** The project's own reference data, read once. */
export function handbook(): Handbook {
  opened ??= openHandbook(new URL("../shared/", import.meta.url))
  return opened
}

export const NEW_YORK = zone("America/New_York")

/** An instant on the wall clock of a zone: `at("2026-05-08 09:10")`. */
export function at(local: string, z = NEW_YORK): Instant {
  const [d, time = "12:00"] = local.split(" ")
  const [hour, minute] = time.split(":").map(Number) as [number, number]
  return instantAt(day(d as string), hour * 60 + minute, z)
}

export function aPerson(known: Partial<Person> = {}): Person {
  return {
    id: "ines",
    name: "Ines",
    phone: "+17175550142",
    email: "ines@example.org",
    zone: NEW_YORK,
    minds: null,
    by: "text",
    texts: { from: 8 * 60, to: 19 * 60 + 30, most: 2 },
    digest: { day: "sunday", at: 17 * 60 },
    ...known,
  }
}

export function aBed(known: Partial<Bed> & { id: string }): Bed {
  return {
    name: `${known.id[0]?.toUpperCase()}${known.id.slice(1)} bed`,
    also: [],
    kind: "raised",
    area_m2: 3,
    sowings: [],
    ...known,
  }
}

export function aSowing(known: Partial<Sowing> & { bed: string }): Sowing {
  const sown = sownOf(known)
  return {
    id: `${known.bed}:${sown ?? known.planned}`,
    planned: null,
    species: [
      { id: "hairy-vetch", share: 0.4 },
      { id: "winter-rye", share: 0.6 },
    ],
    then: "leave",
    next: null,
    ...known,
    sown,
  }
}

/** Sown last September unless it is planned, or said otherwise. */
function sownOf(known: { sown?: Day | null; planned?: Day | null }): Day | null {
  if (known.sown !== undefined) return known.sown
  return known.planned ? null : day("2025-09-20")
}

export function aGarden(known: Partial<Omit<Garden, "place">> & { place?: Partial<GardenPlace> } = {}): Garden {
  return {
    id: "acre",
    name: "Long Acre",
    people: [aPerson()],
    beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })],
    ...known,
    place: {
      latitude: 40.04,
      longitude: -76.31,
      elev_m: null,
      zone: NEW_YORK,
      units: "us",
      dates: "month-first",
      normals: null,
      frost: null,
      ...known.place,
    },
  }
}

/** Entries numbered in the order given. */
export function log(...entries: NewEntry[]): Entry[] {
  return entries.map((entry, index) => ({ ...entry, seq: index + 1 }) as Entry)
}

/** A person wrote. */
export function reply(by: string, local: string, acts: Act[], text = "..."): NewEntry {
  return { at: at(local), garden: "acre", by, via: "sms", kind: "reply", text, acts }
}

/** The bot told a person about reminders: `sent("ines", "2026-05-08 08:00", told(1, "south:2025-09-20:cut:1", {...}))`. */
export function sent(to: string, local: string, ...what: Told[]): NewEntry {
  return { at: at(local), garden: "acre", by: "ryebell", via: "sms", kind: "sent", to, text: "...", told: what }
}

export function told(n: number, id: string, days: Record<string, string> = {}, call?: number): Told {
  const [bed, , kind] = id.split(":") as [string, string, ReminderKind]
  const named = Object.fromEntries(Object.entries(days).map(([name, d]) => [name, day(d)]))
  return { n, id, kind, bed, days: named, ...(call === undefined ? {} : { call }) }
}

export function historyOf(garden: Garden, entries: readonly Entry[] = []): History {
  return readHistory(entries, garden)
}

/** A range from three days of one text: `range("2026-05-03", "2026-05-08", "2026-05-15")`. */
export function range(early: string, likely: string, late: string, why = "a reason"): Range {
  return rangeOf(day(early), day(likely), day(late), why)
}

export function aSpeciesPlan(known: Partial<SpeciesPlan> & { id: string }): SpeciesPlan {
  return {
    share: 1,
    emergence: range("2025-09-25", "2025-09-29", "2025-10-04"),
    heading: null,
    firstFlower: range("2026-05-03", "2026-05-08", "2026-05-15"),
    viableSeed: range("2026-05-16", "2026-05-25", "2026-06-05"),
    frostKill: { temperature_c: { low: -25, high: -15 }, chance: 0.1, when: null },
    ...known,
  }
}

export function aCut(from: string, best: string, by: string, known: Partial<CutWindow> = {}): CutWindow {
  return {
    from: day(from),
    best: day(best),
    by: day(by),
    setBy: { species: "hairy-vetch", because: "seed" },
    why: "vetch can drop seed that grows after that",
    ordinal: 1,
    survivors: [],
    carryOff: false,
    ...known,
  }
}

export function aNext(crop: string, wanted: string, ready: Range, known: Partial<NextPlan> = {}): NextPlan {
  return {
    crop,
    wanted: day(wanted),
    ready,
    fits: ready.late <= wanted,
    ways: [],
    why: "the stems must rot first",
    ...known,
  }
}

/** A sowing's plan in which nothing is due; name what a test needs. */
export function aSowingPlan(known: Partial<SowingPlan> = {}): SowingPlan {
  const bed = known.bed ?? "south"
  const sown = sownOf(known)
  return {
    sowing: `${bed}:${sown ?? known.planned}`,
    bed,
    state: sown === null ? "planned" : "growing",
    planned: null,
    then: "leave",
    species: [aSpeciesPlan({ id: "hairy-vetch", share: 0.4 }), aSpeciesPlan({ id: "winter-rye", share: 0.6 })],
    sow: null,
    resowBy: null,
    noCut: null,
    cut: null,
    wasCut: null,
    regrowthCheck: null,
    rest: null,
    next: null,
    nitrogen: null,
    water: null,
    watchBoot: null,
    watchBloom: null,
    frost: null,
    endedOn: null,
    hazards: [],
    cautions: [],
    remarks: [],
    ...known,
    sown,
  }
}

/** A garden's plan of these sowings, bed by bed. */
export function aPlan(on: string, ...sowings: SowingPlan[]): GardenPlan {
  const beds = new Map<string, SowingPlan[]>()
  for (const sowing of sowings) beds.set(sowing.bed, [...(beds.get(sowing.bed) ?? []), sowing])
  return { on: day(on), garden: "acre", beds: [...beds].map(([bed, its]) => ({ bed, sowings: its })) }
}

export { type Day, day }
