import type { DailyWeather } from "../agronomy/weather-series.ts"
import { asDay, dayNumber } from "../values/day.ts"
import { type Problem, WrongInput } from "../values/problem.ts"

const COLUMNS = ["date", "tmin_c", "tmax_c", "rain_mm"] as const
/** Beyond these nothing was ever measured near the ground (WMO weather and climate extremes archive, from memory), with a margin. */
const BOUNDS = { tmin_c: [-95, 60], tmax_c: [-95, 60], rain_mm: [0, 2000] } as const
/** A file that spans more days than this was misread. */
const MOST_DAYS = 400 * 366

type Row = { day: number; tmin_c: number; tmax_c: number; rain_mm: number }

/**
 * Reads daily weather: a header `date,tmin_c,tmax_c,rain_mm` (in any order, other columns are passed over), then a day a
 * line. Empty values and days that are left out are gaps (NaN). WrongInput names every line that cannot be: no day, a day
 * twice, no number, a figure out of bounds, a maximum below the minimum. Where `doubt` is given, a day whose figures cannot
 * be is told to it and left as a gap; a line without a day of its own is still refused.
 */
export function readWeatherCsv(text: string, file: string, doubt?: (problem: Problem) => void): DailyWeather {
  const lines = text.replace(/^\uFEFF/, "").split(/\r?\n/)
  const places = header(lines[0] ?? "", file)
  const problems: Problem[] = []
  const rows = new Map<number, Row>()
  lines.forEach((line, index) => {
    if (index === 0 || line.trim() === "") return
    const found: Problem[] = []
    const read = readRow(line.split(","), places, { file, line: index + 1, column: 1 }, found)
    const row =
      read && found.length > 0 ? { ...read, tmin_c: Number.NaN, tmax_c: Number.NaN, rain_mm: Number.NaN } : read
    for (const each of found) (row && doubt ? doubt : (one: Problem) => problems.push(one))(each)
    if (!row) return
    if (rows.has(row.day))
      problems.push(
        problem({ file, line: index + 1, column: 1 }, "date", "a day that an earlier line has", "each day once"),
      )
    rows.set(row.day, row)
  })
  if (rows.size === 0 && problems.length === 0)
    problems.push(problem({ file, line: 1, column: 1 }, "", "no days", "at least one day below the header"))
  if (problems.length > 0) throw new WrongInput(problems)
  return seriesOf([...rows.values()], file)
}

function header(line: string, file: string): Record<(typeof COLUMNS)[number], number> {
  const names = line.split(",").map((name) => name.trim().toLowerCase())
  const missing = COLUMNS.filter((column) => column !== "rain_mm" && !names.includes(column))
  if (missing.length > 0) {
    throw new WrongInput([
      problem(
        { file, line: 1, column: 1 },
        "header",
        JSON.stringify(line.slice(0, 80)),
        `the columns ${COLUMNS.join(", ")}; ${missing.join(" and ")} cannot be left out`,
      ),
    ])
  }
  return {
    date: names.indexOf("date"),
    tmin_c: names.indexOf("tmin_c"),
    tmax_c: names.indexOf("tmax_c"),
    rain_mm: names.indexOf("rain_mm"),
  }
}

function readRow(
  cells: string[],
  places: ReturnType<typeof header>,
  place: Problem["place"],
  problems: Problem[],
): Row | null {
  const said = (cells[places.date] ?? "").trim()
  const day = asDay(said)
  if (!day) {
    problems.push(problem(place, "date", JSON.stringify(said), "a day of the calendar, YYYY-MM-DD"))
    return null
  }
  const value = (name: "tmin_c" | "tmax_c" | "rain_mm"): number => {
    const cell = places[name] < 0 ? "" : (cells[places[name]] ?? "").trim()
    if (cell === "") return Number.NaN
    const number = Number(cell)
    const [low, high] = BOUNDS[name]
    if (!(number >= low && number <= high))
      problems.push(problem(place, name, JSON.stringify(cell), `a number from ${low} to ${high}, or nothing`))
    return number
  }
  const row = { day: dayNumber(day), tmin_c: value("tmin_c"), tmax_c: value("tmax_c"), rain_mm: value("rain_mm") }
  if (row.tmax_c < row.tmin_c)
    problems.push(
      problem(place, "tmax_c", `${row.tmax_c}, below tmin_c ${row.tmin_c}`, "a maximum not below the minimum"),
    )
  return row
}

function seriesOf(rows: readonly Row[], file: string): DailyWeather {
  const first = rows.reduce((least, row) => Math.min(least, row.day), Number.POSITIVE_INFINITY)
  const last = rows.reduce((most, row) => Math.max(most, row.day), Number.NEGATIVE_INFINITY)
  const length = last - first + 1
  if (length > MOST_DAYS)
    throw new WrongInput([
      problem({ file, line: 1, column: 1 }, "date", `${length} days from first to last`, "days of at most 400 years"),
    ])
  const empty = () => new Float64Array(length).fill(Number.NaN)
  const series: DailyWeather = { first, tmin_c: empty(), tmax_c: empty(), rain_mm: empty() }
  for (const row of rows) {
    series.tmin_c[row.day - first] = row.tmin_c
    series.tmax_c[row.day - first] = row.tmax_c
    series.rain_mm[row.day - first] = row.rain_mm
  }
  return series
}

function problem(place: Problem["place"], field: string, found: string, expected: string): Problem {
  return { code: "weather-file", place, field, found, expected }
}
