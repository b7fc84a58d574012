import { addDays, type Day, dayFromNumber, dayNumber, dayOf, partsOf, weekday } from "../values/day.ts"

/**
 * The stretch of the calendar that a picture shows: twelve months, with the weeks around today drawn larger where there is
 * enough to see in them. null: all days are drawn alike.
 */
export type ChartYear = { first: Day; last: Day; lens: { first: Day; last: Day } | null }

/** Share of the width (0 to 100) at which a day begins. Days outside the year fall outside 0 to 100 or on its edge. */
export type Scale = (d: Day) => number

/** How many months before today's the picture begins. */
const MONTHS_BEFORE = 3
/** Days before and after today that are drawn larger: what was just done, and what a gardener plans for. */
const LENS = { before: 14, after: 41 }
/** Where the enlarged stretch stands, in per cent of the width. */
const LENS_FROM = 15
const LENS_TO = 65
/** At least this share of all that begins or ends in the year must do so in those weeks, else they only crowd the rest. */
const LENS_WORTH = 0.3

/**
 * The twelve months that a picture of a day shows: from the first of the month three before it. `turns` are the days on
 * which something begins or ends.
 */
export function chartYear(on: Day, turns: readonly Day[]): ChartYear {
  const { year, month } = partsOf(on)
  const first = monthStart(year * 12 + month - 1 - MONTHS_BEFORE)
  const last = addDays(monthStart(year * 12 + month - 1 - MONTHS_BEFORE + 12), -1)
  const lens = { first: addDays(on, -LENS.before), last: addDays(on, LENS.after) }
  const shown = turns.filter((d) => d >= first && d <= last)
  const near = shown.filter((d) => d >= lens.first && d <= lens.last)
  return { first, last, lens: near.length >= LENS_WORTH * shown.length && near.length > 0 ? lens : null }
}

/** The scale of a year: straight within each of its parts, and rising throughout. */
export function scaleOf({ first, last, lens }: ChartYear): Scale {
  const knots: [number, number][] = [
    [dayNumber(first), 0],
    ...(lens
      ? ([
          [dayNumber(lens.first), LENS_FROM],
          [dayNumber(lens.last) + 1, LENS_TO],
        ] as [number, number][])
      : []),
    [dayNumber(last) + 1, 100],
  ]
  return (d) => {
    const n = dayNumber(d)
    const at = knots.findIndex(([day], i) => i > 0 && n <= day)
    const right = at < 0 ? knots.length - 1 : at
    const [a, x] = knots[right - 1] as [number, number]
    const [b, y] = knots[right] as [number, number]
    return Math.round((x + ((n - a) / (b - a)) * (y - x)) * 100) / 100
  }
}

/** The first days of the twelve months. */
export function monthStarts({ first }: ChartYear): Day[] {
  const { year, month } = partsOf(first)
  return Array.from({ length: 12 }, (_, i) => monthStart(year * 12 + month - 1 + i))
}

/** The Mondays within the enlarged weeks. */
export function lensMondays({ lens }: ChartYear): Day[] {
  if (!lens) return []
  const start = dayNumber(lens.first) + ((8 - weekday(lens.first)) % 7)
  const mondays: Day[] = []
  for (let n = start; n <= dayNumber(lens.last) - 2; n += 7) mondays.push(dayFromNumber(n))
  return mondays
}

function monthStart(index: number): Day {
  return dayOf(Math.floor(index / 12), (index % 12) + 1, 1) as Day
}
