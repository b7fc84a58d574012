import type { Bed, Garden, Person, Sowing } from "../../src/garden/garden.ts"
import type { Handbook } from "../../src/handbook/handbook.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { SowingPlan, SpeciesPlan } from "../../src/season/bed-plan.ts"
import { addDays, day } from "../../src/values/day.ts"
import { seenOn } from "../../src/values/range.ts"
import { zone } from "../../src/values/zone.ts"

/** Long Acre on Sunday 10 May 2026, made by hand: a garden with a bed in every stage, for tests of what people read. */
export const ON = day("2026-05-10")
export const NEW_YORK = zone("America/New_York")

const NAMES: Record<string, string[]> = {
  "hairy-vetch": ["hairy vetch", "vetch"],
  "winter-rye": ["winter rye", "rye"],
  oats: ["oats"],
  "field-pea": ["field pea", "field peas", "peas"],
  "crimson-clover": ["crimson clover", "clover"],
  buckwheat: ["buckwheat"],
}
const CROPS: Record<string, string[]> = { tomato: ["tomato", "tomatoes"], cabbage: ["cabbage"], squash: ["squash"] }

/** A handbook of names alone: what people read asks it for nothing else, save what a crop wants of nitrogen. */
export function namesOnly(): Handbook {
  const species = new Map(Object.entries(NAMES).map(([id, names]) => [id, { id, names }]))
  const crops = new Map(
    Object.entries(CROPS).map(([id, names]) => [
      id,
      { id, names, nitrogen: { need: "medium-heavy", need_g_per_m2: { low: 12, likely: 15, high: 18 } } },
    ]),
  )
  return { species, crops } as unknown as Handbook
}

export function person(id: string, over: Partial<Person> = {}): Person {
  return {
    id,
    name: id.charAt(0).toUpperCase() + id.slice(1),
    phone: "+17175550142",
    email: `${id}@example.org`,
    zone: NEW_YORK,
    minds: null,
    by: "text",
    texts: { from: 480, to: 1170, most: 2 },
    digest: { day: "sunday", at: 1020 },
    ...over,
  }
}

export function bed(id: string, name: string, sowings: Sowing[] = []): Bed {
  return { id, name, also: [], kind: "raised", area_m2: 2.97, sowings }
}

export function garden(beds: Bed[], people: Person[] = [person("ines")]): Garden {
  return {
    id: "long-acre",
    name: "Long Acre",
    place: {
      latitude: 40.04,
      longitude: -76.31,
      elev_m: null,
      zone: NEW_YORK,
      units: "us",
      dates: "month-first",
      normals: "york-pa",
      frost: null,
    },
    people,
    beds,
  }
}

export function species(id: string, share: number, over: Partial<SpeciesPlan> = {}): SpeciesPlan {
  return {
    id,
    share,
    emergence: seenOn(day("2025-09-27"), "seedlings were seen"),
    heading: null,
    firstFlower: null,
    viableSeed: null,
    frostKill: { temperature_c: { low: -25, high: -20 }, chance: 0.02, when: null },
    ...over,
  }
}

export function sowingPlan(bedId: string, sown: string | null, over: Partial<SowingPlan> = {}): SowingPlan {
  return {
    sowing: `${bedId}:${sown ?? over.planned ?? "2026-08-28"}`,
    bed: bedId,
    state: "growing",
    sown: sown ? day(sown) : null,
    planned: null,
    then: "leave",
    species: [],
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
    ...over,
  }
}

export function reminder(id: string, over: Partial<Reminder> & Pick<Reminder, "kind" | "text" | "title">): Reminder {
  const [bedId, sown, , ordinal] = id.split(":") as [string, string, string, string]
  return {
    id,
    bed: bedId,
    sowing: `${bedId}:${sown}`,
    ordinal: Number(ordinal),
    person: "ines",
    opens: ON,
    lapses: addDays(ON, 7),
    state: "due",
    speaks: ON,
    call: 1,
    urgency: 50,
    pressing: false,
    short: over.text,
    words: ["DONE", "SNOOZE SAT"],
    days: {},
    ...over,
  }
}
