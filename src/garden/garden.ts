import type { Day } from "../values/day.ts"
import type { Minutes, Zone } from "../values/zone.ts"

export type Units = "us" | "metric"
export type DateOrder = "month-first" | "day-first"
export type BedKind = "raised" | "plot" | "greenhouse"
/** What becomes of the tops after a cut. */
export type Then = "leave" | "carry-off" | "turn-in" | "tarp"
export type Weekday = "monday" | "tuesday" | "wednesday" | "thursday" | "friday" | "saturday" | "sunday"

/** Twelve monthly normals that the gardener gave; January first. */
export type OwnNormals = { tmin_c: readonly number[]; tmax_c: readonly number[]; rain_mm: readonly number[] }

export type GardenPlace = {
  latitude: number
  longitude: number
  elev_m: number | null
  zone: Zone
  units: Units
  dates: DateOrder
  /** Id of a bundled climate, the gardener's own figures, or null: from the nearest stations. */
  normals: string | OwnNormals | null
  /** Average last spring and first autumn frost as MM-DD, or null: from the normals. */
  frost: { last: string; first: string } | null
}

export type Person = {
  id: string
  name: string
  phone: string | null
  email: string | null
  zone: Zone
  /** Ids of the beds this person minds; null: all. */
  minds: readonly string[] | null
  by: "text" | "mail" | "both"
  texts: { from: Minutes; to: Minutes; most: number }
  digest: { day: Weekday; at: Minutes } | null
}

/** A share of the seed weight of a mix, 0 to 1; the shares of one sowing add up to 1. */
export type SpeciesShare = { id: string; share: number }

export type NextCrop = { crop: string; wanted: Day | null }

/** A sowing as the garden file has it: sown on a day, or planned for one. */
export type Sowing = {
  /** `bed:day`, the day it was sown or is planned for in the file. */
  id: string
  bed: string
  sown: Day | null
  planned: Day | null
  species: readonly SpeciesShare[]
  then: Then
  next: NextCrop | null
}

export type Bed = {
  id: string
  name: string
  also: readonly string[]
  kind: BedKind
  area_m2: number
  sowings: readonly Sowing[]
}

export type Garden = {
  /** From the file's name or the garden's own: names the garden in the log. */
  id: string
  name: string
  place: GardenPlace
  people: readonly Person[]
  beds: readonly Bed[]
  /** The word by which others join, each with a garden of their own at this place; absent: nobody can. */
  invite?: string
}

/** The people who mind a bed. */
export function mindersOf(garden: Garden, bedId: string): Person[] {
  return garden.people.filter((person) => person.minds === null || person.minds.includes(bedId))
}
