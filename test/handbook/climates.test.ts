import { expect, test } from "vitest"
import type { Climate } from "../../src/handbook/climate.ts"
import { distance_km, lazyClimates } from "../../src/handbook/climates.ts"
import { handbook } from "./shared.ts"

const { climates } = handbook
const all = [...climates.ids()].map((id) => climates.byId(id)!)

test("about 6,000 stations are bundled, each with an id that can be typed", () => {
  expect(all.length).toBeGreaterThanOrEqual(5900)
  expect(new Set(all.map(({ id }) => id)).size).toBe(all.length)
  expect(all.filter(({ id }) => !/^[a-z0-9]+(-[a-z0-9]+)+$/.test(id))).toEqual([])
})

test("York, Pennsylvania, and Hannover, Germany, are there by name", () => {
  expect(climates.byId("york-pa")).toMatchObject({ name: "York", where: "PA", lat: 39.917, lon: -76.75 })
  expect(climates.byId("hannover-de")).toMatchObject({ name: "Hannover", where: "Germany" })
  expect(climates.byId("atlantis-xx")).toBeUndefined()
})

/** What is implausible about a station. The wettest month, Cherrapunji's July, has about 2,700 mm. */
function oddities({ tmin_c, tmax_c, rain_mm, sdDay_c, sdYear_c, lat, lon, elev_m }: Climate): string[] {
  const within = (values: readonly (number | null)[], least: number, most: number) =>
    values.length === 12 && values.every((value) => value === null || (value >= least && value <= most))
  return [
    ...(Math.abs(lat) <= 90 && Math.abs(lon) <= 180 && elev_m > -430 && elev_m < 5200 ? [] : ["place"]),
    ...(within(tmin_c, -75, 40) && within(tmax_c, -70, 50) ? [] : ["temperatures"]),
    ...(tmin_c.every((low, month) => low < tmax_c[month]!) ? [] : ["minimum above maximum"]),
    ...(within(rain_mm, 0, 3000) ? [] : ["rain"]),
    ...(within(sdDay_c, 0.1, 15) && within(sdYear_c, 0.1, 10) ? [] : ["spread"]),
  ]
}

test("every station has twelve plausible months", () => {
  const odd = all.flatMap((climate) => oddities(climate).map((oddity) => `${climate.id}: ${oddity}`))
  expect(odd).toEqual([])
})

test("an implausible station is caught", () => {
  const york = climates.byId("york-pa")!
  expect(oddities({ ...york, tmin_c: york.tmax_c })).toEqual(["minimum above maximum"])
  expect(oddities({ ...york, rain_mm: york.rain_mm.slice(1), lat: 139 })).toEqual(["place", "rain"])
})

test("the warm half of the year is that of the hemisphere, outside the tropics", () => {
  const wrong = all.filter(({ lat, tmax_c }) => {
    if (Math.abs(lat) < 30) return false
    const july = tmax_c[6]!
    const january = tmax_c[0]!
    return lat > 0 ? july <= january : january <= july
  })
  expect(wrong.map(({ id }) => id)).toEqual([])
})

test("a spot within 5 km of a station gets that station alone", () => {
  const at = climates.at({ lat: 39.92, lon: -76.76 })
  expect(at.made).toBe("York, PA, 1 km")
  expect(at.tmin_c).toEqual(climates.byId("york-pa")!.tmin_c)
  expect(at.elev_m).toBe(climates.byId("york-pa")!.elev_m)
})

test("a spot between stations gets up to four of them, nearest weighing most, and says which and how far", () => {
  const at = climates.at({ lat: 40.04, lon: -76.31 })
  expect(at.made).toMatch(/^Landisville, PA, 14 km; (.+, PA, \d+ km; ){2}.+, PA, \d+ km$/)
  expect(Math.abs(at.tmax_c[6]! - climates.byId("landisville-pa")!.tmax_c[6]!)).toBeLessThan(1)
})

// International Standard Atmosphere (ISO 2533): 6.5 C per km in the lowest layer.
test("a kilometre higher is 6.5 C cooler, and an unknown height changes nothing", () => {
  const spot = { lat: 39.917, lon: -76.75 }
  const [station, high] = [climates.byId("york-pa")!, climates.at({ ...spot, elev_m: 1119 })]
  for (let month = 0; month < 12; month += 1) {
    expect(high.tmin_c[month]).toBeCloseTo(station.tmin_c[month]! - 6.5, 6)
    expect(high.tmax_c[month]).toBeCloseTo(station.tmax_c[month]! - 6.5, 6)
  }
  expect(high.made).toBe("York, PA, 0 km; 6.5 C cooler for height")
  expect(climates.at(spot).tmin_c).toEqual(station.tmin_c)
})

test("a mountain garden looks to stations of its height before nearer ones in the valley", () => {
  const at = climates.at({ lat: 47, lon: 11, elev_m: 1800 })
  const first = climates.byId(at.id.replace(/^near-/, ""))!
  expect(first.elev_m).toBeGreaterThan(1000)
})

test("both sides of the date line are near each other", () => {
  expect(distance_km({ lat: 0, lon: 179.9 }, { lat: 0, lon: -179.9 })).toBeCloseTo(22.2, 0)
  const [east, west] = [climates.at({ lat: -17.8, lon: 179.99 }), climates.at({ lat: -17.8, lon: -179.99 })]
  expect(east.made).toContain("Fiji")
  expect(Math.abs(east.tmin_c[0]! - west.tmin_c[0]!)).toBeLessThan(0.2)
})

// Checked against known distances: London-Paris 344 km, New York-Los Angeles 3,936 km, pole to equator 10,008 km.
test("distances are great-circle distances", () => {
  expect(distance_km({ lat: 51.5074, lon: -0.1278 }, { lat: 48.8566, lon: 2.3522 })).toBeCloseTo(344, -1)
  expect(Math.abs(distance_km({ lat: 40.7128, lon: -74.006 }, { lat: 34.0522, lon: -118.2437 }) - 3936)).toBeLessThan(
    20,
  )
  expect(Math.abs(distance_km({ lat: 90, lon: 0 }, { lat: 0, lon: 77 }) - 10008)).toBeLessThan(20)
})

test("poles and open ocean still get an answer that says how far it was fetched", () => {
  for (const spot of [
    { lat: 90, lon: 0 },
    { lat: -90, lon: 0 },
    { lat: -45, lon: -120 },
  ]) {
    const at = climates.at(spot)
    const far = Number(/(\d+) km/.exec(at.made!)![1])
    expect(far).toBeGreaterThan(500)
    expect(at.tmin_c.every(Number.isFinite)).toBe(true)
  }
})

test("rain that no station knows stays unknown, and one that knows is enough", () => {
  const line = (id: string, lat: number, rain: string) =>
    [id, id, "X", lat, 0, 0, 0, Array(12).fill(10).join(" "), Array(12).fill(100).join(" "), rain].join("\t")
  const text = `${line("a-x", 0.2, `- 50${" 50".repeat(10)}`)}\n${line("b-x", -0.2, `- -${" 70".repeat(10)}`)}\n`
  const one = { unit: "x", source: ["PRACTICE"], grade: "none" as const }
  const spread = `${Array(12).fill(30).join(" ")}\t${Array(12).fill(10).join(" ")}`
  const made = lazyClimates(() => ({
    stations: [{ source: "S", text }],
    spread,
    join: {
      lapse_c_per_km: { low: 6.5, high: 6.5, ...one },
      heightAsDistance_km_per_km: { low: 100, high: 100, ...one },
      alone_km: { low: 5, high: 5, ...one },
      stations: { low: 4, high: 4, ...one },
      timesAsFar: { low: 3, high: 3, ...one },
    },
  })).at({ lat: 0, lon: 0 })
  expect(made.rain_mm.slice(0, 3)).toEqual([null, 50, 60])
})

test("stations are read at the first question only", () => {
  let reads = 0
  const lazy = lazyClimates(() => {
    reads += 1
    throw new Error("not now")
  })
  expect(reads).toBe(0)
  expect(() => lazy.byId("york-pa")).toThrow("not now")
})
