import { knownWeather } from "../bot/known.ts"
import { entriesUpTo } from "../garden/effective.ts"
import type { Entry } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import { readHistory } from "../garden/history.ts"
import { readGarden } from "../garden/read.ts"
import { readLogLines } from "../garden/read-log.ts"
import { showProblem, WrongInput } from "../values/problem.ts"
import { localDay } from "../values/zone.ts"
import { readWeatherCsv } from "../weather/csv.ts"
import type { Asked, KnownGarden, World } from "./command.ts"

const WEATHER_SERVICES = ["none", "open-meteo", "nws"]

/** Garden, log, weather and day as asked for, else as set: what every command that plans starts from. */
export async function openWorldGarden(world: World, asked: Asked): Promise<KnownGarden> {
  const handbook = world.handbook()
  const file = asked.garden ?? (await world.gardenFile())
  const read = readGarden(await world.read(file), file, handbook)
  if ("problems" in read) throw new WrongInput(read.problems)
  for (const warning of read.warnings) world.err(`note: ${showProblem(warning)}`)
  const { garden } = read
  const on = asked.on ?? localDay(world.clock.now(), garden.place.zone)
  const entries = entriesUpTo(asked.empty ? [] : await entriesOf(world, garden, asked.log), on, garden.place.zone)
  const observed = await weatherFile(world, asked.weather)
  return {
    handbook,
    garden,
    entries,
    history: readHistory(entries, garden),
    weather: knownWeather(handbook, garden, observed ? { observed, forecast: null } : null),
    on,
  }
}

async function entriesOf(world: World, garden: Garden, file: string | undefined): Promise<Entry[]> {
  if (file === undefined) return world.storedEntries(garden.id)
  const read = readLogLines(await world.read(file), file)
  for (const warning of read.warnings) world.err(`note: ${warning}`)
  return read.entries
}

async function weatherFile(world: World, asked: string | undefined) {
  const file = asked ?? (WEATHER_SERVICES.includes(world.settings.weather) ? undefined : world.settings.weather)
  return file === undefined ? null : readWeatherCsv(await world.read(file), file)
}
