import { z } from "zod"
import type { WeatherSource } from "../bot/needs.ts"
import { addMs, asInstant, HOUR_MS, type Instant, instantText, MINUTE_MS } from "../values/instant.ts"
import { type DayRow, keptSeries, laidOver, packSeries, rowsOf, sameSeries, seriesOf } from "./days.ts"
import { WeatherTrouble } from "./get-json.ts"
import { checkDays, type Normals } from "./sane.ts"
import type { KeptPlace, PlaceAsked, WeatherService } from "./service.ts"

export type KeepOptions = {
  recall(name: string): Promise<string | null>
  remember(name: string, value: string): Promise<void>
  /** What is normal at a place; a feed is held against it. null: not known. */
  normals?(place: { lat: number; lon: number; elev_m: number | null }): Normals | null
}

/** A source that keeps what it was told. */
export type KeptSource = WeatherSource & {
  /** What is wrong with it now, in words for the owner; null: all is well. */
  trouble(): string | null
  /** Resolves when nothing is being asked. */
  idle(): Promise<void>
}

type Daily = Awaited<ReturnType<WeatherSource["daily"]>>
type Place = Parameters<WeatherSource["daily"]>[0]

/** Services make their forecasts anew every few hours. */
const FRESH_MS = 6 * HOUR_MS
/** A service that gave nothing is left alone for so long. */
const REST_MS = 30 * MINUTE_MS
/** A forecast that old says no more than normals do (failure O7). */
const STALE_MS = 48 * HOUR_MS
/** A clock that was set back by less is no reason to ask again. */
const CLOCK_BACK_MS = HOUR_MS
/** Four years, so that a winter can be looked back on. */
const MOST_DAYS = 1_500
/** Days ahead that anything is made of. */
const MOST_AHEAD = 20
/** Places in memory; others are read back from the store. */
const MOST_PLACES = 1_000

type Slot = {
  kept: KeptPlace | null
  /** The very object that was given last: the same until something changed. */
  shown: { daily: Daily; of: KeptPlace | null; stale: boolean } | null
  restUntil: Instant | null
  trouble: string | null
  working: Promise<void> | null
}

/**
 * A weather service with a memory. What was received is kept in the store with its time, checked for sense at the door, and
 * laid over what was known. A place that is known is answered from memory at once, and asked about anew behind the caller's
 * back every six hours; a service that fails is tried once in half an hour at most. A forecast older than 48 hours is
 * dropped, so that normals take its place; days that are over stay.
 */
export function keptSource(service: WeatherService, options: KeepOptions): KeptSource {
  const slots = new Map<string, Promise<Slot>>()
  /** The whole service rests: other places would fare no better. */
  let restUntil: Instant | null = null
  let serviceTrouble: string | null = null
  const troubles = new Map<string, string>()
  /** One question after the other: a service of the public is not stormed. */
  let queue: Promise<void> = Promise.resolve()

  async function daily(place: Place, now: Instant): Promise<Daily> {
    const asked = rounded(place)
    const name = nameOf(service.name, asked)
    const slot = await slotOf(name)
    if (isDue(slot, now)) {
      slot.working ??= enqueue(() => refresh(name, slot, asked, now)).finally(() => {
        slot.working = null
      })
      // Only who knows nothing at all waits for an answer.
      if (slot.kept === null) await slot.working
    }
    return shown(slot, now)
  }

  function isDue(slot: Slot, now: Instant): boolean {
    if (rests(restUntil, now) || rests(slot.restUntil, now)) return false
    if (slot.kept === null) return true
    const age = now - slot.kept.receivedAt
    return age >= FRESH_MS || age < -CLOCK_BACK_MS
  }

  function enqueue(work: () => Promise<void>): Promise<void> {
    const done = queue.then(work)
    queue = done.catch(() => {})
    return queue
  }

  async function refresh(name: string, slot: Slot, place: PlaceAsked, now: Instant): Promise<void> {
    try {
      const answer = await service.ask(place, slot.kept, now)
      const known = believed(slot.kept, now).filter((row) => row.day < answer.today)
      const checked = checkDays(answer.rows, options.normals?.(place) ?? null, known)
      if (checked.refused) throw new WeatherTrouble(`its answer was not believed: ${checked.refused}`, "place")
      slot.kept = combined(slot.kept, checked.rows, answer, now)
      slot.restUntil = null
      restUntil = null
      serviceTrouble = null
      tell(name, slot, noted(answer.missing, checked.doubts))
      // Failing to keep it costs a question after the next start, nothing else.
      await options.remember(name, packed(slot.kept)).catch(() => {})
    } catch (error) {
      const why = error instanceof WeatherTrouble ? error.message : "its answer could not be read"
      if (error instanceof WeatherTrouble && error.scope === "service") {
        restUntil = addMs(now, REST_MS)
        serviceTrouble = why
      } else {
        slot.restUntil = addMs(now, REST_MS)
        tell(name, slot, why)
      }
    }
  }

  function tell(name: string, slot: Slot, trouble: string | null): void {
    slot.trouble = trouble
    if (trouble === null) troubles.delete(name)
    else troubles.set(name, trouble)
  }

  function slotOf(name: string): Promise<Slot> {
    const known = slots.get(name)
    if (known) return known
    const slot = options
      .recall(name)
      .catch(() => null)
      .then((text): Slot => ({ kept: unpacked(text), shown: null, restUntil: null, trouble: null, working: null }))
    slots.set(name, slot)
    if (slots.size > MOST_PLACES) {
      const oldest = slots.keys().next().value as string
      slots.delete(oldest)
      troubles.delete(oldest)
    }
    return slot
  }

  return {
    name: service.name,
    attribution: service.attribution,
    daily,
    trouble: () => {
      const what = serviceTrouble ?? [...troubles.values()][0]
      return what === undefined ? null : `${service.name}: ${what}`
    },
    async idle() {
      await queue
    },
  }
}

function rests(until: Instant | null, now: Instant): boolean {
  // A rest that seems to end far ahead was begun before the clock was set back.
  return until !== null && now < until && until - now <= REST_MS
}

/** What is told of a place, as the same object until something changed. */
function shown(slot: Slot, now: Instant): Daily {
  const { kept } = slot
  const stale = kept !== null && now - kept.receivedAt > STALE_MS
  if (slot.shown && slot.shown.of === kept && slot.shown.stale === stale) return slot.shown.daily
  const forecast = kept && !stale ? kept.forecast : null
  const same =
    slot.shown?.daily &&
    kept &&
    sameSeries(slot.shown.daily.observed, kept.observed) &&
    sameSeries(slot.shown.daily.forecast, forecast)
  const daily = same
    ? (slot.shown?.daily ?? null)
    : kept && (kept.observed || forecast)
      ? { observed: kept.observed, forecast, asOf: kept.receivedAt }
      : null
  slot.shown = { daily, of: kept, stale }
  return daily
}

/** Days to hold an answer against. Long after the last good answer they count no more: the fault may have been theirs. */
function believed(kept: KeptPlace | null, now: Instant): DayRow[] {
  if (kept === null || now - kept.receivedAt > STALE_MS) return []
  return [...rowsOf(kept.forecast), ...rowsOf(kept.observed)]
}

/** What was known, with the answer laid over it. */
function combined(
  kept: KeptPlace | null,
  rows: readonly DayRow[],
  answer: { today: number; past: "measured" | "forecast"; notes: Record<string, string> },
  now: Instant,
): KeptPlace {
  const { today } = answer
  const over = rows.filter((row) => row.day < today)
  const ahead = rows.filter((row) => row.day >= today && row.day < today + MOST_AHEAD)
  const young = (row: DayRow) => row.day >= today - MOST_DAYS
  const measured = answer.past === "measured"
  // What was forecast of days that are over is the best there is where nobody measures.
  const pastForecast = measured
    ? []
    : laidOver(
        rowsOf(kept?.forecast ?? null).filter((row) => row.day < today),
        over,
      )
  return {
    receivedAt: now,
    observed: seriesOf(laidOver(rowsOf(kept?.observed ?? null), measured ? over : []).filter(young)),
    forecast: seriesOf([...pastForecast.filter(young), ...ahead]),
    notes: answer.notes,
  }
}

function noted(missing: string | undefined, doubts: number): string | null {
  if (missing !== undefined) return missing
  return doubts === 0 ? null : `${doubts} ${doubts === 1 ? "day was" : "days were"} not believed and left out`
}

/** Places to a hundredth of a degree (about a kilometre) and heights to 10 m. */
function rounded(place: Place): PlaceAsked {
  const round = (value: number, step: number) => Number((Math.round(value / step) * step).toFixed(2))
  return {
    lat: round(place.lat, 0.01),
    lon: round(place.lon, 0.01),
    elev_m: place.elev_m === null ? null : round(place.elev_m, 10),
    zone: place.zone ?? null,
  }
}

function nameOf(service: string, { lat, lon, elev_m, zone }: PlaceAsked): string {
  return `weather:${service}:${lat},${lon},${elev_m ?? "-"},${zone ?? "-"}`
}

const file = z.object({
  version: z.literal(1),
  received: z.string(),
  observed: keptSeries,
  forecast: keptSeries,
  notes: z.record(z.string(), z.string()),
})

function packed(kept: KeptPlace): string {
  return JSON.stringify({
    version: 1,
    received: instantText(kept.receivedAt),
    observed: packSeries(kept.observed),
    forecast: packSeries(kept.forecast),
    notes: kept.notes,
  })
}

/** null: nothing was kept, or nothing that can be read any more; it is asked for anew then. */
function unpacked(text: string | null): KeptPlace | null {
  if (text === null) return null
  try {
    const read = file.parse(JSON.parse(text))
    const receivedAt = asInstant(read.received)
    return receivedAt === null
      ? null
      : { receivedAt, observed: read.observed, forecast: read.forecast, notes: read.notes }
  } catch {
    return null
  }
}
