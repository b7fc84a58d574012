import type { Handbook } from "../handbook/handbook.ts"
import type { Problem } from "../values/problem.ts"
import type { Bed, Garden, OwnNormals, Person, Sowing, SpeciesShare } from "./garden.ts"
import {
  type BedInFile,
  DEFAULTS,
  type GardenFile,
  gardenFileSchema,
  type PersonInFile,
  type SowingInFile,
} from "./garden-file.ts"
import { checkBeds } from "./read-beds.ts"
import { problemsOf } from "./read-issues.ts"
import type { Found } from "./read-parts.ts"
import { checkPeople } from "./read-people.ts"
import { checkPlace } from "./read-place.ts"
import { plainValue, readTree } from "./read-tree.ts"
import { asId, readTime } from "./read-words.ts"

/** A garden, or every problem of its file; warnings stand beside either. Both are in the order of the file. */
export type GardenRead = { garden: Garden; warnings: Problem[] } | { problems: Problem[]; warnings: Problem[] }

/**
 * Reads a garden file, YAML 1.2 or JSON, against the handbook. `fileName` names it in problems, and its stem names the
 * garden in the log. Nothing is taken of a file with problems.
 */
export function readGarden(text: string, fileName: string, handbook: Handbook): GardenRead {
  const { tree, problems } = readTree(text, fileName)
  if (!tree) return { problems, warnings: [] }
  const found: Found = { problems, warnings: [] }
  const parsed = gardenFileSchema.safeParse(plainValue(tree))
  if (!parsed.success) problems.push(...problemsOf(parsed.error.issues, tree, gardenFileSchema))
  checkPlace(tree, handbook, found)
  checkBeds(tree, handbook, found)
  checkPeople(tree, found)
  const warnings = inOrder(found.warnings)
  if (!parsed.success || problems.length > 0) return { problems: inOrder(problems), warnings }
  return { garden: gardenOf(parsed.data, fileName), warnings }
}

function inOrder(problems: readonly Problem[]): Problem[] {
  const at = (problem: Problem) => (problem.place ? problem.place.line * 10_000 + problem.place.column : 0)
  return [...problems].sort((a, b) => at(a) - at(b))
}

/** The id of the garden in a file: the stem of the file's name made an id. */
export function gardenIdOf(fileName: string): string {
  const name = fileName.split(/[\\/]/).at(-1) ?? fileName
  return asId(name.replace(/\.[^.]*$/, "")) || "garden"
}

function gardenOf(file: GardenFile, fileName: string): Garden {
  const id = gardenIdOf(fileName)
  const { place } = file
  const units = place.units ?? DEFAULTS.units
  return {
    id,
    name: file.garden ?? asName(id),
    place: {
      latitude: place.latitude,
      longitude: place.longitude,
      elev_m: place.elev_m ?? null,
      zone: place.zone,
      units,
      dates: place.dates ?? (units === "us" ? "month-first" : "day-first"),
      normals: Array.isArray(place.normals) ? ownNormals(place.normals) : (place.normals ?? null),
      frost: place.frost ?? null,
    },
    people: (file.people ?? []).map((person) => personOf(person, file)),
    beds: file.beds.map(bedOf),
    ...(file.invite === undefined ? {} : { invite: file.invite }),
  }
}

function ownNormals(months: readonly { tmin_c: number; tmax_c: number; rain_mm: number }[]): OwnNormals {
  return {
    tmin_c: months.map((month) => month.tmin_c),
    tmax_c: months.map((month) => month.tmax_c),
    rain_mm: months.map((month) => month.rain_mm),
  }
}

function personOf(person: PersonInFile, file: GardenFile): Person {
  const phone = person.phone ?? null
  const email = person.email ?? null
  return {
    id: person.id,
    name: person.name ?? asName(person.id),
    phone,
    email,
    zone: person.zone ?? file.place.zone,
    minds: person.minds ?? null,
    by: person.by ?? (phone ? "text" : "mail"),
    texts: {
      from: person.texts?.from ?? minutes(DEFAULTS.texts.from),
      to: person.texts?.to ?? minutes(DEFAULTS.texts.to),
      most: person.texts?.most ?? Number(DEFAULTS.texts.most),
    },
    digest: digestOf(person, email),
  }
}

function digestOf(person: PersonInFile, email: string | null): Person["digest"] {
  if (person.digest === "none" || email === null) return null
  return {
    day: person.digest?.day ?? DEFAULTS.digest.day,
    at: person.digest?.at ?? minutes(DEFAULTS.digest.at),
  }
}

function bedOf(bed: BedInFile): Bed {
  return {
    id: bed.id,
    name: bed.name ?? asName(bed.id),
    also: bed.also ?? [],
    kind: bed.kind ?? DEFAULTS.kind,
    area_m2: bed.size,
    sowings: (bed.sowings ?? []).map((sowing) => sowingOf(sowing, bed.id)),
  }
}

function sowingOf(sowing: SowingInFile, bed: string): Sowing {
  const next = sowing.next ? { crop: sowing.next.crop, wanted: sowing.next.wanted ?? null } : null
  return {
    id: `${bed}:${sowing.sown ?? sowing.planned}`,
    bed,
    sown: sowing.sown ?? null,
    planned: sowing.planned ?? null,
    species: sharesOf(sowing.species),
    then: sowing.then ?? DEFAULTS.then,
    next,
  }
}

/** Shares as fractions of one: those given, made whole, or equal ones for a list. */
function sharesOf(species: SowingInFile["species"]): SpeciesShare[] {
  const given: [string, number][] = Array.isArray(species) ? species.map((id) => [id, 1]) : Object.entries(species)
  const sum = given.reduce((total, [, share]) => total + share, 0)
  return given.map(([id, share]) => ({ id, share: share / sum }))
}

/** A name made of an id: `north-bed` is `North bed`. */
function asName(id: string): string {
  const words = id.replaceAll("-", " ").trim()
  return words.slice(0, 1).toUpperCase() + words.slice(1)
}

function minutes(time: string): number {
  const read = readTime(time)
  return "value" in read ? read.value : 0
}
