import { type Day, daysBetween, later } from "../values/day.ts"
import type { Fact, SowingRecord } from "./facts.ts"
import type { Sowing, SpeciesShare } from "./garden.ts"

/** How far a planned day may lie from the day of sowing for the two to be the same sowing. */
const SAME_SOWING_DAYS = 60
/** Sown again within so many days of the first time, it is the same sowing repaired and not the next one. */
const RESOWN_WITHIN_DAYS = 45

/** A sowing while the log is being read into it. */
export type OpenRecord = { sowing: Sowing; sown: Day | null; facts: Fact[] }

/** Records of one bed from the garden file, oldest first. */
export function openRecords(sowings: readonly Sowing[]): OpenRecord[] {
  return sowings.map((sowing): OpenRecord => ({ sowing, sown: sowing.sown, facts: [] })).sort(byDay)
}

/**
 * The sowing of a bed that something seen or done on a day belongs to: the last one sown by then, of those that hold
 * the species where one is named. Null where nothing was sown by then.
 */
export function sowingOn(records: readonly OpenRecord[], on: Day, species: readonly string[]): OpenRecord | null {
  const sown = records.filter((record) => record.sown !== null && record.sown <= on)
  const holding = sown.filter((record) => species.every((id) => record.sowing.species.some((share) => share.id === id)))
  return holding.at(-1) ?? sown.at(-1) ?? null
}

/**
 * Files "sowed" under its sowing: the planned one it fits, a sowing of the last weeks that was sown again, or a new
 * sowing of the bed, which is added to `records`. Null where a bare "sowed" fits nothing and no species is known.
 */
export function fileSowing(
  records: OpenRecord[],
  bed: string,
  species: readonly string[],
  on: Day,
  seq: number,
): OpenRecord | null {
  const planned = records
    .filter((record) => record.sown === null && record.sowing.planned !== null)
    .filter((record) => distance(record, on) <= SAME_SOWING_DAYS && overlaps(record, species))
    .sort((a, b) => distance(a, on) - distance(b, on))[0]
  if (planned) return sow(planned, species, on, seq)
  const before = records.filter((record) => record.sown !== null && record.sown <= on).at(-1)
  if (before && daysBetween(before.sown as Day, on) <= RESOWN_WITHIN_DAYS && overlaps(before, species))
    return resow(before, on, seq)
  const same = records.find((record) => record.sowing.id === `${bed}:${on}`)
  if (same) return sow(same, species, on, seq)
  if (species.length === 0) return null
  const sowing: Sowing = {
    id: `${bed}:${on}`,
    bed,
    sown: on,
    planned: null,
    species: evenShares(species),
    then: records.at(-1)?.sowing.then ?? "leave",
    next: null,
  }
  const added: OpenRecord = { sowing, sown: on, facts: [{ fact: "sowed", on, species, seq }] }
  records.push(added)
  records.sort(byDay)
  return added
}

/** Files a sowing that is known by its id: the answer to a reminder to sow, or to sow again. */
export function sow(record: OpenRecord, species: readonly string[], on: Day, seq: number): OpenRecord {
  record.sown = record.sown === null ? on : record.sown
  const holds = record.sowing.species.map((share) => share.id)
  const differs = species.length > 0 && (species.length !== holds.length || species.some((id) => !holds.includes(id)))
  if (differs) record.sowing = { ...record.sowing, species: evenShares(species) }
  record.facts.push({ fact: "sowed", on, species: species.length > 0 ? species : holds, seq })
  return record
}

/** Sown again: the stand counts from the new day, unless the first sowing came up (patchy) and was only filled in. */
export function resow(record: OpenRecord, on: Day, seq: number): OpenRecord {
  const cameUp = record.facts.some((fact) => fact.fact === "observed" && (fact.what === "patchy" || fact.what === "up"))
  if (!cameUp && record.sown !== null) record.sown = later(record.sown, on)
  record.facts.push({ fact: "sowed", on, species: record.sowing.species.map((share) => share.id), seq })
  return record
}

/** Records of a bed in the order of their days, for reading. */
export function closed(records: readonly OpenRecord[]): SowingRecord[] {
  return records
    .map((record) => ({ ...record, facts: record.facts.toSorted((a, b) => compare(a.on, b.on) || a.seq - b.seq) }))
    .sort(byDay)
}

/** The sowing of a bed nearest to a day, as a hint for an entry whose own sowing is gone from the file. */
export function nearestSowing(records: readonly OpenRecord[], on: Day): string | null {
  return records.toSorted((a, b) => distance(a, on) - distance(b, on))[0]?.sowing.id ?? null
}

function evenShares(species: readonly string[]): SpeciesShare[] {
  return species.map((id) => ({ id, share: 1 / species.length }))
}

function overlaps(record: OpenRecord, species: readonly string[]): boolean {
  return species.length === 0 || record.sowing.species.some((share) => species.includes(share.id))
}

function distance(record: OpenRecord, on: Day): number {
  return Math.abs(daysBetween(dayOf(record), on))
}

function dayOf(record: OpenRecord): Day {
  return (record.sown ?? record.sowing.planned) as Day
}

function byDay(a: OpenRecord, b: OpenRecord): number {
  return compare(dayOf(a), dayOf(b))
}

function compare(a: Day, b: Day): number {
  return a < b ? -1 : a > b ? 1 : 0
}
