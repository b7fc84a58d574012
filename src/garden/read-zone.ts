import { z } from "zod"
import { instant } from "../values/instant.ts"
import { nearestWord } from "../values/nearest.ts"
import { asZone, offsetMinutes, type Zone } from "../values/zone.ts"
import type { Read } from "./read-words.ts"

const ZONE_EXPECTED = "a zone of the IANA database as Area/Place, such as America/New_York or Europe/Berlin"

/** Zones that the run-time knows and lists; it also knows older names that it does not list. */
let listed: readonly string[] | undefined
function listedZones(): readonly string[] {
  listed ??= Intl.supportedValuesOf("timeZone")
  return listed
}

/** Reads a zone by its name in the IANA database; offsets such as `+05:00` are none. */
export function readZone(text: string): Read<Zone> {
  const known = /^[A-Za-z][A-Za-z0-9_+/-]*$/.test(text) ? asZone(text) : null
  if (known) {
    const spelled = listedZones().find((name) => name.toLowerCase() === text.toLowerCase())
    return { value: (spelled as Zone | undefined) ?? known }
  }
  const nearest = nearestZoneName(text)
  return { wrong: "not-a-zone", expected: ZONE_EXPECTED, ...(nearest ? { nearest } : {}) }
}

/** The zone name nearest to what was written; its place alone (`New York`) is enough. */
function nearestZoneName(text: string): string | undefined {
  const wanted = text.trim().replaceAll(" ", "_").toLowerCase()
  if (wanted === "") return undefined
  const names = listedZones()
  const place = (name: string) => name.slice(name.lastIndexOf("/") + 1).toLowerCase()
  return (
    names.find((name) => name.toLowerCase() === wanted) ??
    names.find((name) => place(name) === wanted || place(name) === place(wanted)) ??
    nearestWord(wanted, names)
  )
}

const FIXED = /^(?:EST|MST|HST|UTC|UCT|GMT|Zulu|Universal|Greenwich|GMT[+-]?0|Etc\/.+)$/i
const REVERSED = /^Etc\/GMT([+-])(\d{1,2})$/i

/** Does this zone name an offset rather than a place, so that its clocks never change? Says what that means, else null. */
export function fixedOffset(name: string): string | null {
  if (!FIXED.test(name)) return null
  const reversed = REVERSED.exec(name)
  if (!reversed || reversed[2] === "0") return `${name} has no summer time`
  const side = reversed[1] === "+" ? "behind (west of)" : "ahead (east) of"
  return `${name} is ${reversed[2]} hours ${side} UTC, its sign is reversed, and it has no summer time`
}

const tableSchema = z.looseObject({ zones: z.array(z.tuple([z.string(), z.number(), z.number(), z.string()])) })

/** The principal place of a zone, and its country (ISO 3166). */
export type ZonePlace = { zone: Zone; lat: number; lon: number; country: string }

/** Placed zones by the table they were read from: asking the run-time for 400 zones takes longer than a garden file. */
const placed = new WeakMap<object, ZonePlace[]>()

/** The principal place of each zone, from the table `zone-places`; zones that the run-time does not know are left out. */
export function zonePlaces(table: unknown): ZonePlace[] {
  const before = placed.get(table as object)
  if (before) return before
  // To be listed is enough: to try each zone out takes a hundred times as long.
  const known = new Set(listedZones())
  const places = tableSchema.parse(table).zones.flatMap(([name, lat, lon, country]) => {
    const zone = known.has(name) ? (name as Zone) : asZone(name)
    return zone ? [{ zone, lat, lon, country }] : []
  })
  placed.set(table as object, places)
  return places
}

/** So many principal places around a spot are asked which clock they keep. */
const NEIGHBOURS = 5

/**
 * The zone that a spot likely keeps: the nearest principal places are asked which clock they keep, near ones with more
 * weight, and the zone is the nearest of the spot's own country that keeps it (of any, where the country is not known).
 * A guess to be confirmed, since zones follow borders.
 */
export function likelyZone(
  spot: { lat: number; lon: number },
  places: readonly ZonePlace[],
  country: string | null,
): Zone | null {
  const byDistance = places.map((place) => ({ ...place, far: arc(spot, place) })).sort((a, b) => a.far - b.far)
  const votes = new Map<string, number>()
  for (const { zone, far } of byDistance.slice(0, NEIGHBOURS))
    votes.set(clockOf(zone), (votes.get(clockOf(zone)) ?? 0) + 1 / (1 + far))
  const most = Math.max(...votes.values())
  const keeping = byDistance.filter(({ zone }) => votes.get(clockOf(zone)) === most)
  const own = keeping.filter((place) => place.country === country)
  const candidates = own.length > 0 ? own : keeping
  const [nearest] = candidates
  // Far from both, Chicago says more to most people than North_Dakota/Center, and shows the same time.
  const known = candidates.find(({ zone }) => zone.split("/").length === 2)
  return (nearest && nearest.far < 1 ? nearest : (known ?? nearest))?.zone ?? null
}

/** Offsets in winter and summer: zones that share them show the same time. */
function clockOf(zone: Zone): string {
  return PROBES.map((at) => offsetMinutes(at, zone)).join()
}

const PROVINCES_OF_CANADA = new Set(["AB", "BC", "MB", "NB", "NL", "NS", "NT", "NU", "ON", "PE", "QC", "SK", "YT"])

/** The country (ISO 3166) of a weather station, from its state, province or country's name; null where it is not known. */
export function countryOf(where: string, places: readonly ZonePlace[]): string | null {
  if (/^[A-Z]{2}$/.test(where)) return PROVINCES_OF_CANADA.has(where) ? "CA" : "US"
  const nameOf = new Intl.DisplayNames("en", { type: "region" })
  return places.find((place) => nameOf.of(place.country) === where)?.country ?? null
}

const DEGREE = Math.PI / 180

/** Angle between two spots on a sphere, in degrees. Source: haversine formula, from memory. */
function arc(a: { lat: number; lon: number }, b: { lat: number; lon: number }): number {
  const half = (x: number) => Math.sin((x * DEGREE) / 2) ** 2
  const chord = half(b.lat - a.lat) + Math.cos(a.lat * DEGREE) * Math.cos(b.lat * DEGREE) * half(b.lon - a.lon)
  return (2 * Math.asin(Math.min(1, Math.sqrt(chord)))) / DEGREE
}

/** Any January and July do: only the smaller of the two offsets is looked at. */
const PROBES = [instant("2026-01-15T12:00:00Z"), instant("2026-07-15T12:00:00Z")]

/** Longitude that a zone's standard time belongs to, in degrees: 15 for each hour of its offset. */
export function standardLongitude(zone: Zone): number {
  return Math.min(...PROBES.map((at) => offsetMinutes(at, zone))) / 4
}

/** Beyond this many degrees of longitude from its zone a place is likely mistaken; no zone of a country is so wide but China's. */
const FAR_DEGREES = 30

/**
 * Does a place lie far from its own zone, as after a swap of latitude and longitude or a lost sign? Says what is odd and
 * the likeliest mistake, else null. Compares with the standard longitude and the principal place of the zone.
 */
export function farFromZone(
  spot: { lat: number; lon: number },
  zone: Zone,
  places: readonly ZonePlace[],
): { odd: string; likely: string | null } | null {
  const principal = places.find((place) => place.zone === zone)
  const isNear = (lat: number, lon: number) => {
    const east = Math.min(
      turn(lon - standardLongitude(zone)),
      principal ? turn(lon - principal.lon) : Number.POSITIVE_INFINITY,
    )
    const otherSide =
      principal && Math.sign(lat) !== Math.sign(principal.lat) && Math.abs(lat - principal.lat) > FAR_DEGREES
    return Math.abs(lat) <= 90 && east <= FAR_DEGREES && !otherSide
  }
  if (isNear(spot.lat, spot.lon)) return null
  const mistakes: [string, number, number][] = [
    ["latitude and longitude are swapped", spot.lon, spot.lat],
    ["the sign of the longitude is wrong (west is negative)", spot.lat, -spot.lon],
    ["the sign of the latitude is wrong (south is negative)", -spot.lat, spot.lon],
    ["the signs of both are wrong (south and west are negative)", -spot.lat, -spot.lon],
  ]
  const likely = mistakes.find(([, lat, lon]) => isNear(lat, lon))
  return { odd: `${spot.lat}, ${spot.lon} lies far from ${zone}`, likely: likely?.[0] ?? null }
}

/** Degrees between two longitudes the short way round. */
function turn(difference: number): number {
  const around = Math.abs(difference) % 360
  return Math.min(around, 360 - around)
}
