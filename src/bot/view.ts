import type { KnownWeather } from "../agronomy/weather-series.ts"
import type { Entry } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import type { History } from "../garden/history.ts"
import type { Reminder } from "../reminders/reminder.ts"
import type { GardenPlan } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import type { WeatherSource } from "./needs.ts"

export type Daily = Awaited<ReturnType<WeatherSource["daily"]>>

/** What a garden looks like at a moment: everything known, and the plan and reminders that follow from it. */
export type View = {
  garden: Garden
  on: Day
  entries: readonly Entry[]
  history: History
  weather: KnownWeather
  plan: GardenPlan
  reminders: Reminder[]
}
