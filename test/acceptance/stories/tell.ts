import { describe, expect, test } from "vitest"
import type { DailyWeather, KnownWeather } from "../../../src/agronomy/weather-series.ts"
import type { Act, Stage } from "../../../src/garden/acts.ts"
import { entriesUpTo } from "../../../src/garden/effective.ts"
import type { NewEntry } from "../../../src/garden/entry.ts"
import type { Garden, Then } from "../../../src/garden/garden.ts"
import { readHistory } from "../../../src/garden/history.ts"
import { climateOf } from "../../../src/garden/place-climate.ts"
import { readGarden } from "../../../src/garden/read.ts"
import type { SowingPlan, SowingState } from "../../../src/season/bed-plan.ts"
import { planGarden } from "../../../src/season/plan.ts"
import { addDays, type Day, day, dayNumber } from "../../../src/values/day.ts"
import { at, handbook, log, reply } from "../../given.ts"

/**
 * A season worked by hand: a garden file, what the gardener said, and what the literature leads one to expect of the plan
 * on some days. Days are held as stretches (`from..to`): the literature's own spread, not the program's.
 */
export type Story = {
  /** What happens, and why it should. */
  told: string
  /** Where the expectations come from: author, work, what it says. */
  held: readonly string[]
  place: keyof typeof PLACES
  kind?: "raised" | "plot" | "greenhouse"
  size?: string
  /** The bed's sowings as the garden file has them. */
  sowings: string
  said?: readonly [on: string, ...acts: Act[]][]
  weather?: (on: Day) => Partial<KnownWeather>
  on: Readonly<Record<string, Expected>>
}

/** `2026-05-10..2026-06-01`: a day in this stretch. */
export type Stretch = `${string}..${string}`

/** What the plan of the sowing (the bed's first unless it is named) is held to on a day. */
export type Expected = {
  sowing?: string
  state?: SowingState | readonly SowingState[]
  up?: Stretch
  firstFlower?: Record<string, Stretch | null>
  noBloom?: string
  /** Chance that frost kills a species: from and to. */
  dies?: Record<string, readonly [number, number]>
  cut?: {
    from?: Stretch
    best?: Stretch
    by?: Stretch
    setBy?: string
    ordinal?: number
    survivors?: readonly string[]
    carryOff?: boolean
  } | null
  noCut?: string
  rest?: Stretch
  smallSeed?: Stretch
  ready?: Stretch
  fits?: boolean
  /** Ways out that must be offered, by how they begin. */
  ways?: readonly string[]
  /** g per m2, likely. */
  nitrogen?: readonly [number, number]
  /** Litres. */
  water?: readonly [number, number]
  sow?: { from?: Stretch; by?: Stretch }
  resowBy?: Stretch
  seed?: Record<string, readonly [number, number]>
  asks?: "bloom" | "spring" | "regrowth"
  /** No question of spring: what is to be cut is not left to the frost. */
  neverAsksInSpring?: true
  /** Words of the short notes that belong to the seed. */
  atSowing?: readonly string[]
  hazards?: readonly string[]
  noHazards?: readonly string[]
  /** Words that some reason, remark or caution of the plan must hold. */
  says?: readonly string[]
  neverSays?: readonly string[]
}

/** Places of the stories: latitude, longitude, height, zone. Climate comes from the stations near them. */
const PLACES = {
  lancaster: [40.04, -76.31, 110, "America/New_York"],
  ithaca: [42.45, -76.45, 290, "America/New_York"],
  beltsville: [39.03, -76.88, 40, "America/New_York"],
  athens: [33.95, -83.38, 230, "America/New_York"],
  gainesville: [29.65, -82.3, 50, "America/New_York"],
  minneapolis: [45.0, -93.2, 260, "America/Chicago"],
  kellogg: [42.4, -85.4, 280, "America/Detroit"],
  statecollege: [40.8, -77.86, 350, "America/New_York"],
  portland: [45.5, -122.7, 30, "America/Los_Angeles"],
  bonn: [50.61, 6.99, 159, "Europe/Berlin"],
  christchurch: [-43.6, 172.5, 15, "Pacific/Auckland"],
} as const

/** A sentence said on a day. */
export const saw = (what: Stage, on: string, species: string | null = null): Act => ({
  act: "observe",
  bed: "bed",
  species,
  what,
  on: day(on),
})
export const cut = (on: string, then: Then | null = null, ...species: string[]): Act => ({
  act: "cut",
  bed: "bed",
  species,
  then,
  on: day(on),
})
export const planted = (on: string, crop: string | null = null): Act => ({
  act: "planted",
  bed: "bed",
  crop,
  on: day(on),
})
export const sowed = (on: string, ...species: string[]): Act => ({ act: "sowed", bed: "bed", species, on: day(on) })
export const watered = (on: string): Act => ({ act: "watered", bed: "bed", on: day(on) })
export const wants = (on: string, crop: string): Act => ({ act: "want", bed: "bed", crop, on: day(on) })
export const measured = (
  what: "height_cm" | "cover_percent" | "fresh_g_per_m2" | "soil_c",
  value: number,
  on: string,
): Act => ({
  act: "measure",
  bed: "bed",
  species: null,
  what,
  value,
  on: day(on),
})

/** Measured weather as the normals have it, save for stretches of days that are told. */
export function weatherLike(
  place: keyof typeof PLACES,
  from: string,
  to: string,
  told: readonly { from: string; to: string; tmin_c?: number; tmax_c?: number; rain_mm?: number }[],
): DailyWeather {
  const [lat, lon, elev_m] = PLACES[place]
  const climate = handbook().climates.at({ lat, lon, elev_m })
  const first = day(from)
  const length = dayNumber(day(to)) - dayNumber(first) + 1
  const on = Array.from({ length }, (_, i) => addDays(first, i))
  const month = (d: Day) => Number(d.slice(5, 7)) - 1
  const of = (d: Day) => told.findLast((one) => one.from <= d && d <= one.to)
  return {
    first: dayNumber(first),
    tmin_c: Float64Array.from(on, (d) => of(d)?.tmin_c ?? climate.tmin_c[month(d)]!),
    tmax_c: Float64Array.from(on, (d) => of(d)?.tmax_c ?? climate.tmax_c[month(d)]!),
    rain_mm: Float64Array.from(
      on,
      (d) => of(d)?.rain_mm ?? (dayNumber(d) % 3 === 0 ? (climate.rain_mm[month(d)] ?? 60) / 10 : 0),
    ),
  }
}

/** Tells stories as tests: one for each day of each. */
export function tell(stories: Readonly<Record<string, Story>>): void {
  for (const [name, story] of Object.entries(stories))
    describe(`${name}: ${story.told} Held against ${story.held.join("; ")}`, () => {
      const garden = gardenOf(name, story)
      const entries = log(
        ...(story.said ?? []).map(
          ([on, ...acts]): NewEntry => ({
            ...reply("ines", on, acts, "..."),
            at: at(`${on} 12:00`, garden.place.zone),
          }),
        ),
      )
      test("is looked at on five days or more", () => expect(Object.keys(story.on).length).toBeGreaterThanOrEqual(5))
      for (const [on, expected] of Object.entries(story.on))
        test(on, () => {
          const known = entriesUpTo(entries, day(on), garden.place.zone)
          const [lat, lon] = PLACES[story.place]
          const weather = {
            lat,
            lon,
            observed: null,
            forecast: null,
            climate: climateOf(garden.place, handbook()),
            ...story.weather?.(day(on)),
          }
          const plan = planGarden(
            { handbook: handbook(), garden, history: readHistory(known, garden), weather },
            day(on),
          )
          const sowings = plan.beds[0]!.sowings
          const sowing =
            expected.sowing === undefined
              ? sowings[0]!
              : sowings.find((one) => one.sowing === `bed:${expected.sowing}`)!
          check(sowing, expected)
        })
    })
}

/** The garden as its file would be read. */
function gardenOf(name: string, story: Story): Garden {
  const [lat, lon, elev, zone] = PLACES[story.place]
  const text = `
garden: ${name.replace(/[^a-zA-Z ]/g, "")}
place: { latitude: ${lat}, longitude: ${lon}, elev_m: ${elev}, zone: ${zone}, units: us, dates: month-first }
people: [{ id: ines, name: Ines, phone: "+17175550142" }]
beds:
  - id: bed
    name: The bed
    kind: ${story.kind ?? "raised"}
    size: ${story.size ?? "4 x 8 ft"}
    sowings:
${story.sowings
  .trim()
  .split("\n")
  .map((line) => `      ${line.replace(/^ {6}/, "")}`)
  .join("\n")}
`
  const read = readGarden(text, "story.yaml", handbook())
  if ("problems" in read) throw new Error(`${name}: ${JSON.stringify(read.problems)}`)
  return read.garden
}

function check(plan: SowingPlan, expected: Expected): void {
  const all = sentences(plan)
  const { cut: window, next, rest } = plan
  const member = (id: string) => {
    const found = plan.species.find((species) => species.id === id)
    if (!found) throw new Error(`no ${id} in this sowing`)
    return found
  }
  if (expected.state) expect([expected.state].flat(), "state").toContain(plan.state)
  if (expected.up) within(plan.species[0]!.emergence.likely, expected.up, "coming up")
  for (const [id, stretch] of Object.entries(expected.firstFlower ?? {})) {
    if (stretch === null) expect(member(id).firstFlower, `flower of ${id}`).toBeNull()
    else within(member(id).firstFlower?.likely, stretch, `first flower of ${id}`)
  }
  if (expected.noBloom) expect(member(expected.noBloom).noBloom, "no bloom").toBeTruthy()
  for (const [id, [low, high]] of Object.entries(expected.dies ?? {})) {
    const { chance } = member(id).frostKill
    expect(chance, `chance that ${id} dies`).toBeGreaterThanOrEqual(low)
    expect(chance, `chance that ${id} dies`).toBeLessThanOrEqual(high)
  }
  if (expected.cut === null) expect(window, "cut").toBeNull()
  else if (expected.cut) {
    expect(window, "cut").not.toBeNull()
    for (const end of ["from", "best", "by"] as const)
      if (expected.cut[end]) within(window?.[end], expected.cut[end], `cut ${end}`)
    const { setBy, ordinal, survivors, carryOff } = expected.cut
    if (setBy) expect(`${window!.setBy.species} ${window!.setBy.because}`, "set by").toContain(setBy)
    if (ordinal) expect(window!.ordinal, "which cut").toBe(ordinal)
    if (survivors) expect(window!.survivors, "survivors").toEqual(survivors)
    if (carryOff !== undefined) expect(window!.carryOff, "carry off").toBe(carryOff)
  }
  if (expected.noCut) expect(plan.noCut, "no cut").toContain(expected.noCut)
  if (expected.rest) within(rest?.transplants.likely, expected.rest, "rest for plants")
  if (expected.smallSeed) within(rest?.smallSeed.likely, expected.smallSeed, "rest for small seed")
  if (expected.ready) within(next?.ready.likely, expected.ready, "ready")
  if (expected.fits !== undefined) expect(next?.fits, "fits").toBe(expected.fits)
  for (const way of expected.ways ?? []) expect(next?.ways.map((one) => one.way).join("; "), "ways").toContain(way)
  if (expected.nitrogen) between(plan.nitrogen?.credit_g_per_m2.likely, expected.nitrogen, "nitrogen")
  if (expected.water) between(plan.water?.water_l, expected.water, "water")
  if (expected.sow?.from) within(plan.sow?.from, expected.sow.from, "sow from")
  if (expected.sow?.by) within(plan.sow?.by, expected.sow.by, "sow by")
  if (expected.resowBy) within(plan.resowBy, expected.resowBy, "sow again by")
  for (const [id, span] of Object.entries(expected.seed ?? {}))
    between(plan.seed?.find((one) => one.id === id)?.g, span, `seed of ${id}`)
  if (expected.asks === "bloom") expect(plan.watchBloom ?? plan.watchBoot, "asks for bloom or boot").not.toBeNull()
  if (expected.asks === "spring") expect(plan.springAsk, "asks in spring").toBeTruthy()
  if (expected.neverAsksInSpring) expect(plan.springAsk ?? null, "asks in spring").toBeNull()
  for (const words of expected.atSowing ?? []) expect((plan.atSowing ?? []).join(" "), "at sowing").toContain(words)
  if (expected.asks === "regrowth") expect(plan.regrowthCheck, "asks about regrowth").not.toBeNull()
  for (const hazard of expected.hazards ?? [])
    expect(
      plan.hazards.map((one) => one.what),
      "hazards",
    ).toContain(hazard)
  for (const hazard of expected.noHazards ?? [])
    expect(
      plan.hazards.map((one) => one.what),
      "hazards",
    ).not.toContain(hazard)
  for (const words of expected.says ?? []) expect(all, "says").toContain(words)
  for (const words of expected.neverSays ?? []) expect(all, "never says").not.toContain(words)
}

function within(found: Day | null | undefined, stretch: Stretch, what: string): void {
  const [from, to] = stretch.split("..") as [string, string]
  expect(
    found !== null && found !== undefined && found >= from && found <= to,
    `${what}: ${found}, expected ${stretch}`,
  ).toBe(true)
}

function between(found: number | undefined, [low, high]: readonly [number, number], what: string): void {
  expect(found !== undefined && found >= low && found <= high, `${what}: ${found}, expected ${low} to ${high}`).toBe(
    true,
  )
}

function sentences(plan: SowingPlan): string {
  return [
    plan.sow?.why,
    plan.noCut,
    plan.cut?.why,
    plan.rest?.why,
    plan.next?.why,
    plan.next?.ready.why,
    ...(plan.next?.ways.flatMap((way) => [way.way, way.cost]) ?? []),
    plan.nitrogen?.why,
    plan.water?.why,
    plan.frost?.why,
    plan.springAsk?.why,
    ...plan.species.map((species) => species.noBloom),
    ...plan.hazards.map((hazard) => hazard.why),
    ...plan.remarks,
    ...plan.cautions.map((caution) => caution.text),
  ]
    .filter((sentence) => sentence !== null && sentence !== undefined)
    .join("\n")
}
