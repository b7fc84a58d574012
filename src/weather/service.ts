import type { DailyWeather } from "../agronomy/weather-series.ts"
import type { Attribution } from "../bot/needs.ts"
import type { Instant } from "../values/instant.ts"
import type { Zone } from "../values/zone.ts"
import type { DayRow } from "./days.ts"

/** A place as a service is asked about it: rounded, so that gardens of one town share an answer. */
export type PlaceAsked = {
  lat: number
  lon: number
  elev_m: number | null
  /** Where days begin and end; null: as the service finds it for the place. */
  zone: Zone | null
}

/** What is known of a place from earlier answers. */
export type KeptPlace = {
  /** When the last good answer came. */
  receivedAt: Instant
  observed: DailyWeather | null
  forecast: DailyWeather | null
  /** What the service wants to remember of the place: an address, when it asked for what. */
  notes: Record<string, string>
}

/** One answer of a service, not yet looked at for sense. */
export type ServiceAnswer = {
  /** Day number of today there: earlier days are over. */
  today: number
  rows: DayRow[]
  /** Are days that are over measured (or analysed), or only what was forecast of them? */
  past: "measured" | "forecast"
  notes: Record<string, string>
  /** Something that was not to be had, though the rest was. */
  missing?: string
}

/** A weather service on the network. `ask` throws a WeatherTrouble where it gives nothing. */
export type WeatherService = {
  name: string
  attribution: Attribution
  ask(place: PlaceAsked, kept: KeptPlace | null, now: Instant): Promise<ServiceAnswer>
}
