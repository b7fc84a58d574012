import { readFileSync } from "node:fs"
import { join } from "node:path"
import { z } from "zod"
import type { DailyWeather, KnownWeather } from "../agronomy/weather-series.ts"
import { daySchema, stageSchema } from "../garden/acts.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { estimateStages } from "../season/estimate.ts"
import { type Day, dayFromNumber } from "../values/day.ts"
import { nearestWord } from "../values/nearest.ts"
import { WrongInput } from "../values/problem.ts"
import { readWeatherCsv } from "../weather/csv.ts"
import type { Command } from "./command.ts"
import { answerLines } from "./lines.ts"
import { readOptions } from "./options.ts"

const lineSchema = z.looseObject({
  id: z.union([z.string(), z.number()]),
  species: z.string(),
  sown: daySchema,
  lat: z.number().min(-90).max(90),
  lon: z.number().min(-180).max(180),
  on: daySchema.nullish(),
  weather: z
    .string()
    .regex(/^[A-Za-z0-9][A-Za-z0-9_.-]*$/, "expected the name of a file in the weather folder, without its .csv")
    .nullish(),
  observed: z.array(z.looseObject({ what: stageSchema, on: daySchema })).nullish(),
  bed: z.enum(["raised", "plot", "greenhouse"]).nullish(),
})
type Line = z.infer<typeof lineSchema>

/** When each stage of given sowings comes. */
export const estimateCommand: Command = {
  name: "estimate",
  summary: "emergence, heading, first flower and viable seed of given sowings",
  usage: `usage: ryebell estimate --batch [--weather DIR]

Reads JSON Lines {"id", "species", "sown", "lat", "lon", "on"?, "weather"?, "observed"?: [{"what", "on"}], "bed"?} from
standard input and answers each with {"id", "emergence", "heading", "firstFlower", "viableSeed"}: ranges of days
(early, likely, late, why), null where the stage is not expected; "noBloom" then says why.
"weather" names DIR/NAME.csv (date,tmin_c,tmax_c,rain_mm). Nothing after the end of day "on" is looked at; without "on" the
whole file is known. A day of the file that cannot be is bridged and told on standard error.`,
  async run(args, world) {
    const { options } = readOptions(args, { batch: "flag", weather: "text" })
    const places = placesOf(world.handbook(), options.weather, (text) => world.err(text))
    return answerLines(world, (line) => answer(readLine(line), world.handbook(), places))
  },
}

function answer(line: Line, handbook: Handbook, places: Places) {
  const species = handbook.species.get(line.species)
  if (!species) {
    const nearest = nearestWord(line.species, handbook.species.keys())
    throw new RangeError(
      `species: found ${JSON.stringify(line.species)}, expected the id of a species${nearest ? `. Did you mean ${nearest}?` : ""}`,
    )
  }
  const weather = places(line)
  const stages = estimateStages({
    species,
    development: handbook.development.get(species.id),
    sown: line.sown,
    on: line.on ?? lastDay(weather.observed) ?? line.sown,
    weather,
    bed: line.bed ?? "plot",
    observed: line.observed ?? [],
  })
  const { emergence, flagLeaf, heading, firstFlower, viableSeed, noBloom } = stages
  return { id: line.id, emergence, flagLeaf, heading, firstFlower, viableSeed, ...(noBloom ? { noBloom } : {}) }
}

type Places = (line: Line) => KnownWeather

/** The weather of a line's place; files and climates are read once. */
function placesOf(handbook: Handbook, folder: string | undefined, tell: (text: string) => void): Places {
  const files = new Map<string, DailyWeather>()
  const places = new Map<string, KnownWeather>()
  const fileOf = (name: string): DailyWeather => {
    if (folder === undefined)
      throw new RangeError(`weather: found ${name}, expected --weather DIR to say where it lies`)
    const before = files.get(name)
    if (before) return before
    const made = readWeatherFile(join(folder, `${name}.csv`), tell)
    files.set(name, made)
    return made
  }
  return ({ lat, lon, weather }) => {
    const key = JSON.stringify([lat, lon, weather ?? null])
    const before = places.get(key)
    if (before) return before
    const observed = weather ? fileOf(weather) : null
    const made = { lat, lon, observed, forecast: null, climate: handbook.climates.at({ lat, lon }) }
    places.set(key, made)
    return made
  }
}

function readWeatherFile(file: string, tell: (text: string) => void): DailyWeather {
  let text: string
  try {
    text = readFileSync(file, "utf8")
  } catch (error) {
    const code = error instanceof Error && "code" in error ? String(error.code) : "unreadable"
    throw new TypeError(`${file}: cannot be read (${code}); expected daily weather, date,tmin_c,tmax_c,rain_mm`)
  }
  return readWeatherCsv(text, file, (problem) => tell(`${new WrongInput([problem]).message} The day is bridged.`))
}

function lastDay(weather: DailyWeather | null): Day | null {
  return weather && dayFromNumber(weather.first + weather.tmin_c.length - 1)
}

function readLine(line: unknown): Line {
  const found = lineSchema.safeParse(line)
  if (found.success) return found.data
  const said = found.error.issues.map((issue) => `${issue.path.join(".") || "line"}: ${issue.message}`).join("; ")
  throw new TypeError(
    `${said}; expected {"id", "species", "sown", "lat", "lon", "on"?, "weather"?, "observed"?, "bed"?}`,
  )
}
