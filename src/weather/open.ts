import type { WeatherSource } from "../bot/needs.ts"
import { nearestWord } from "../values/nearest.ts"
import { WrongInput } from "../values/problem.ts"
import { type KeepOptions, keptSource } from "./cache.ts"
import { readWeatherCsv } from "./csv.ts"
import type { Ask, Fetch } from "./get-json.ts"
import { nws } from "./nws.ts"
import { openMeteo } from "./open-meteo.ts"

const SERVICES = ["open-meteo", "nws", "none"]

export type WeatherOptions = KeepOptions & {
  /** `none`, `open-meteo`, `nws`, or the path of a file of daily weather. */
  kind: string
  /** A stand-in, a server of one's own, or the paid host of a service. */
  apiUrl?: string | null
  /** Reads a file of daily weather. */
  read(path: string): Promise<string>
  /** Where the services find whoever asks: a mail address or a page. */
  contact?: string | null
  fetch?: Fetch
  timeoutMs?: number
}

/** A source of weather that can be let go of: nothing is asked any more after `close`. */
export type OpenWeather = WeatherSource & {
  trouble(): string | null
  /** Resolves when nothing is being asked. */
  idle(): Promise<void>
  close(): void
}

/**
 * The source of weather that the settings name; null: none. A file is read at once (WrongInput where it cannot be); a
 * service is asked when its first place is, and never throws: what it does not give is for normals.
 */
export async function openWeather(options: WeatherOptions): Promise<OpenWeather | null> {
  switch (options.kind) {
    case "none":
      return null
    case "open-meteo":
    case "nws": {
      const closing = new AbortController()
      const ask: Ask = {
        fetch: options.fetch ?? fetch,
        userAgent: `ryebell (${options.contact ?? "garden reminders, self-hosted"})`,
        signal: closing.signal,
        ...(options.timeoutMs === undefined ? {} : { timeoutMs: options.timeoutMs }),
      }
      const service = options.kind === "nws" ? nws : openMeteo
      return { ...keptSource(service(ask, options.apiUrl ?? null), options), close: () => closing.abort() }
    }
    default:
      return fileSource(options.kind, await readNamed(options))
  }
}

/** The file that WEATHER names; a word that is neither a service nor a file is told as what it is. */
async function readNamed({ kind, read }: WeatherOptions): Promise<string> {
  try {
    return await read(kind)
  } catch (error) {
    const problem = error instanceof WrongInput ? error.problems[0] : undefined
    if (problem?.code !== "file") throw error
    const nearest = nearestWord(kind, SERVICES)
    const expected = `${SERVICES.join(", ")}, or a CSV file of daily weather`
    throw new WrongInput([
      { ...problem, field: "WEATHER", found: `${kind}: ${problem.found}`, expected, ...(nearest ? { nearest } : {}) },
    ])
  }
}

/** Days from a file: the same object for every place and at all times. */
function fileSource(path: string, text: string): OpenWeather {
  const daily = { observed: readWeatherCsv(text, path), forecast: null }
  return {
    name: path,
    attribution: null,
    daily: async () => daily,
    trouble: () => null,
    idle: async () => {},
    close: () => {},
  }
}
