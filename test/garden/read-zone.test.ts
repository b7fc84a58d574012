import { readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import {
  countryOf,
  farFromZone,
  fixedOffset,
  likelyZone,
  readZone,
  standardLongitude,
  zonePlaces,
} from "../../src/garden/read-zone.ts"
import { instant } from "../../src/values/instant.ts"
import { offsetMinutes, zone } from "../../src/values/zone.ts"
import { handbook } from "../given.ts"

const table = JSON.parse(readFileSync(new URL("../../shared/tables/zone-places.json", import.meta.url), "utf8"))
const places = zonePlaces(table)
const hours = (name: string) =>
  ["2026-01-15T12:00:00Z", "2026-07-15T12:00:00Z"].map((at) => offsetMinutes(instant(at), zone(name)) / 60)

describe("zone names (failure C8)", () => {
  // Offsets of winter and summer: IANA time zone database, from memory; the legal times of these places.
  it.each<[string, [number, number] | null, boolean]>([
    ["America/New_York", [-5, -4], false],
    ["America/Phoenix", [-7, -7], false],
    ["Europe/Berlin", [1, 2], false],
    ["Europe/London", [0, 1], false],
    ["Europe/Dublin", [0, 1], false],
    ["Asia/Kolkata", [5.5, 5.5], false],
    ["Pacific/Auckland", [13, 12], false],
    ["Australia/Adelaide", [10.5, 9.5], false],
    ["America/Sao_Paulo", [-3, -3], false],
    ["US/Eastern", [-5, -4], false],
    ["EST5EDT", [-5, -4], false],
    ["EST", [-5, -5], true],
    ["MST", [-7, -7], true],
    ["HST", [-10, -10], true],
    ["Etc/GMT+5", [-5, -5], true],
    ["Etc/GMT-5", [5, 5], true],
    ["UTC", [0, 0], true],
    ["GMT", [0, 0], true],
    ["GMT+5", null, false],
    ["America/NewYork", null, false],
    ["+05:00", null, false],
    ["", null, false],
  ])("%s: offsets %j, fixed: %s", (name, offsets, isFixed) => {
    const read = readZone(name)
    expect("value" in read ? hours(read.value) : null).toEqual(offsets)
    expect(fixedOffset(name) !== null).toBe(isFixed)
  })

  it("of Etc say that their sign is reversed", () => {
    expect(fixedOffset("Etc/GMT+5")).toMatch(/5 hours behind .*reversed/)
    expect(fixedOffset("Etc/GMT-12")).toMatch(/12 hours ahead .*reversed/)
    expect(fixedOffset("Etc/UTC")).not.toMatch(/reversed/)
  })

  it("are found by their place alone, in any casing, and by a slip", () => {
    const nearest = (name: string) => {
      const read = readZone(name)
      return "value" in read ? read.value : read.nearest
    }
    expect(nearest("New York")).toBe("America/New_York")
    expect(nearest("america/new_york")).toBe("America/New_York")
    expect(nearest("europe/berln")).toBe("Europe/Berlin")
    expect(nearest("Auckland")).toBe("Pacific/Auckland")
  })
})

describe("the zone of a place", () => {
  it("is one of its own country, where the nearest weather station tells it", () => {
    const likely = (lat: number, lon: number) =>
      likelyZone({ lat, lon }, places, countryOf(handbook().climates.at({ lat, lon }).where, places))
    expect(likely(42.44, -76.5)).toBe("America/New_York")
    expect(likely(47.99, 7.85)).toBe("Europe/Berlin")
    expect(likely(43.65, -79.38)).toBe("America/Toronto")
    expect(likely(51.5, -0.12)).toBe("Europe/London")
    expect(countryOf("Atlantis", places)).toBeNull()
  })

  // Which zone a town keeps: from memory of its legal time.
  it.each([
    ["Lancaster, Pennsylvania", 40.04, -76.31, "America/New_York"],
    ["Freiburg", 47.99, 7.85, "Europe/Berlin"],
    ["Ames, Iowa", 42.03, -93.62, "America/Chicago"],
    ["York, Nebraska", 40.87, -97.59, "America/Chicago"],
    ["Indianapolis", 39.77, -86.16, "America/New_York"],
    ["Boulder, Colorado", 40.01, -105.27, "America/Denver"],
    ["Corvallis, Oregon", 44.56, -123.26, "America/Los_Angeles"],
    ["Tucson, Arizona", 32.22, -110.97, "America/Phoenix"],
    ["Leeds", 53.8, -1.55, "Europe/London"],
    ["Hobart", -42.88, 147.33, "Australia/Hobart"],
    ["Bengaluru", 12.97, 77.59, "Asia/Kolkata"],
    ["Christchurch", -43.53, 172.64, "Pacific/Auckland"],
    ["Fiji across the date line", -17.8, -179.9, "Pacific/Fiji"],
  ])("near %s is guessed, and keeps the same hours", (_town, lat, lon, expected) => {
    const country = countryOf(handbook().climates.at({ lat, lon }).where, places)
    expect(hours(likelyZone({ lat, lon }, places, country) ?? "")).toEqual(hours(expected))
  })

  it("is far off after each of the four mistakes with signs and order (failure C13)", () => {
    const likely = (lat: number, lon: number, name = "America/New_York") =>
      farFromZone({ lat, lon }, zone(name), places)?.likely
    expect(likely(40.04, -76.31)).toBeUndefined()
    expect(likely(-76.31, 40.04)).toMatch(/swapped/)
    expect(likely(40.04, 76.31)).toMatch(/sign of the longitude/)
    expect(likely(-40.04, -76.31)).toMatch(/sign of the latitude/)
    expect(likely(-40.04, 76.31)).toMatch(/signs of both/)
    expect(likely(151.2, -33.9, "Australia/Sydney")).toMatch(/swapped/)
    expect(farFromZone({ lat: 10, lon: 20 }, zone("America/New_York"), places)).toMatchObject({ likely: null })
  })

  it("is near for the principal place of every zone, and for edges of wide ones", () => {
    expect(places.length).toBeGreaterThan(400)
    for (const { zone: name, lat, lon } of places) expect(farFromZone({ lat, lon }, name, places), name).toBeNull()
    // Vigo, western Spain; Eastport, Maine; Ontonagon, Michigan; Lhasa; Attu on the far side of the date line.
    expect(farFromZone({ lat: 42.24, lon: -8.72 }, zone("Europe/Madrid"), places)).toBeNull()
    expect(farFromZone({ lat: 44.9, lon: -66.98 }, zone("America/New_York"), places)).toBeNull()
    expect(farFromZone({ lat: 46.87, lon: -89.31 }, zone("America/New_York"), places)).toBeNull()
    expect(farFromZone({ lat: 29.65, lon: 91.1 }, zone("Asia/Shanghai"), places)).toBeNull()
    expect(farFromZone({ lat: 52.9, lon: 172.9 }, zone("America/Adak"), places)).toBeNull()
  })

  it("has the longitude of its standard time: 15 degrees for each hour", () => {
    expect(standardLongitude(zone("America/New_York"))).toBe(-75)
    expect(standardLongitude(zone("Pacific/Auckland"))).toBe(180)
    expect(standardLongitude(zone("Asia/Kolkata"))).toBe(82.5)
    expect(standardLongitude(zone("Europe/Dublin"))).toBe(0)
  })
})
