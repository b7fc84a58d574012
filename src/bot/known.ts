import type { KnownWeather } from "../agronomy/weather-series.ts"
import { entriesUpTo } from "../garden/effective.ts"
import type { Entry } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import { readHistory } from "../garden/history.ts"
import { climateOf } from "../garden/place-climate.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { remindersFor } from "../reminders/index.ts"
import { planGarden } from "../season/plan.ts"
import type { Day } from "../values/day.ts"
import type { Instant } from "../values/instant.ts"
import { localDay } from "../values/zone.ts"
import type { House } from "./house.ts"
import type { Seen } from "./needs.ts"
import type { Daily, View } from "./view.ts"

/** The view of a garden that follows from what is known at the end of a day. The one way to a plan: everyone calls it. */
export function viewOf(
  handbook: Handbook,
  garden: Garden,
  entries: readonly Entry[],
  weather: KnownWeather,
  on: Day,
): View {
  const history = readHistory(entries, garden)
  const plan = planGarden({ handbook, garden, history, weather }, on)
  const reminders = remindersFor(plan, { garden, history, handbook }, on)
  return { garden, on, entries, history, weather, plan, reminders }
}

/** The view of a garden as it was known at the end of an earlier day. */
export function viewOn(
  handbook: Handbook,
  garden: Garden,
  entries: readonly Entry[],
  weather: KnownWeather,
  on: Day,
): View {
  return viewOf(handbook, garden, entriesUpTo(entries, on, garden.place.zone), weather, on)
}

/**
 * The garden now. Kept until the log, the file, the weather or the day changes; a garden whose view cannot be made
 * throws, and the caller keeps that from the others.
 */
export async function viewNow(house: House, garden: Garden, now: Instant): Promise<View> {
  const on = localDay(now, garden.place.zone)
  const known = house.memory.views.get(garden.id)
  const fresh = await house.store.entries(garden.id, known?.lastSeq ?? 0)
  const daily = await dailyOf(house, garden, now)
  const same =
    known && known.view.garden === garden && known.view.on === on && fresh.length === 0 && known.daily === daily
  if (same) return known.view
  const entries = known ? [...known.view.entries, ...fresh] : fresh
  const weather =
    known && known.daily === daily && known.view.garden === garden
      ? known.view.weather
      : knownWeather(house.handbook, garden, daily)
  const view = viewOf(house.handbook, garden, entries, weather, on)
  house.memory.views.set(garden.id, { view, daily, lastSeq: entries.at(-1)?.seq ?? 0 })
  return view
}

/** How far the log had gone when the view was made. */
export function seenIn({ garden, entries }: View): Seen {
  return { garden: garden.id, seq: entries.at(-1)?.seq ?? 0 }
}

/** A weather source that fails takes nobody down: the plan goes on with normals, and health says so. */
async function dailyOf(house: House, garden: Garden, now: Instant): Promise<Daily> {
  if (!house.weather) return null
  try {
    const { latitude: lat, longitude: lon, elev_m, zone } = garden.place
    const daily = await house.weather.daily({ lat, lon, elev_m, zone }, now)
    noteTrouble(house, house.weather.trouble?.() ?? null)
    return daily
  } catch (error) {
    house.memory.errors.set("weather", error instanceof Error ? error.message : String(error))
    house.log.warn({ garden: garden.id, error }, "the weather source failed; going on with normals")
    return null
  }
}

/** A source that goes on with what it kept still says what is wrong; the operator hears of each trouble once. */
function noteTrouble(house: House, trouble: string | null): void {
  const before = house.memory.errors.get("weather") ?? null
  if (trouble === null) house.memory.errors.delete("weather")
  else house.memory.errors.set("weather", trouble)
  if (trouble !== null && trouble !== before) house.log.warn({ trouble }, "the weather source has trouble")
}

/** Weather of a garden's place: what a source gave, with normals for everything else. */
export function knownWeather(handbook: Handbook, garden: Garden, daily: Daily): KnownWeather {
  const { latitude: lat, longitude: lon } = garden.place
  return {
    lat,
    lon,
    observed: daily?.observed ?? null,
    forecast: daily?.forecast ?? null,
    climate: climateOf(garden.place, handbook),
  }
}
