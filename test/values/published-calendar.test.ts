import { describe, expect, test } from "vitest"
import { addDays, type Day, day, dayOfYear, daysBetween, isLeapYear, weekday } from "../../src/values/day.ts"
import { type Instant, instant } from "../../src/values/instant.ts"
import { instantAt, localDay, localMinutes, offsetMinutes, zone } from "../../src/values/zone.ts"
import { checkValues, type Row } from "../handbook/check-values.ts"

const { rows, row, title } = checkValues("calendar")
const HOUR_MS = 3_600_000
const utc = (text: string) => instant(text.replace(/Z$/, ":00Z"))

/** The day and minutes of `2026-03-08T02:30`. */
const wall = (text: string): [Day, number] => {
  const [d, time] = text.split("T") as [string, string]
  const [hour, minute] = time.split(":").map(Number) as [number, number]
  return [day(d), hour * 60 + minute]
}
const at = (text: string, name: string) => instantAt(...wall(text), zone(name))
const isShown = (text: string, name: string) => {
  const found = at(text, name)
  const [d, minutes] = wall(text)
  return localDay(found, zone(name)) === d && localMinutes(found, zone(name)) === minutes
}
const hoursOf = (d: string, name: string) =>
  (instantAt(addDays(day(d), 1), 0, zone(name)) - instantAt(day(d), 0, zone(name))) / HOUR_MS

/** Minutes east of Greenwich of `-05:00`. */
const minutesOf = (offset: string) => {
  const [hour, minute] = offset.slice(1).split(":").map(Number) as [number, number]
  return (offset.startsWith("-") ? -1 : 1) * (hour * 60 + minute)
}

function changesAt(name: string, at_utc: string, from: number, to: number): void {
  const change = utc(at_utc)
  expect(offsetMinutes((change - 1) as Instant, zone(name))).toBe(from)
  expect(offsetMinutes(change, zone(name))).toBe(to)
}

describe("clock changes by the IANA time zone database", () => {
  const years = rows.filter(({ id }) => /^dst-.*-\d{4}$/.test(id))
  for (const one of years)
    test(title(one), () => {
      for (const { utc, from_minutes, to_minutes } of one.expected)
        changesAt(one.inputs.zone, utc, from_minutes, to_minutes)
    })
  const halves = rows.filter(({ id, expected }) => id.startsWith("tz-") && expected.at_utc !== undefined)
  for (const one of halves)
    test(title(one), () =>
      changesAt(one.inputs.zone, one.expected.at_utc, minutesOf(one.expected.from), minutesOf(one.expected.to)),
    )
  test("hold all rows of a change", () => expect(years.length + halves.length).toBe(28))

  test(title(row("dst-lord-howe-half")), () => {
    const lordHowe = zone("Australia/Lord_Howe")
    const moved = offsetMinutes(utc("2026-01-01T00:00Z"), lordHowe) - offsetMinutes(utc("2026-07-01T00:00Z"), lordHowe)
    expect(moved).toBe(row("dst-lord-howe-half").expected)
  })
})

describe("hours that are skipped or come twice", () => {
  test(title(row("dst-gap")), () => {
    const { inputs, expected } = row("dst-gap")
    expect(isShown(inputs.gap, inputs.zone)).toBe(expected.gap_exists)
    expect(at(inputs.fold, inputs.zone)).toBe(utc(expected.fold_utc[0]))
    // The second of the two shows the same wall time, an hour on.
    expect(localMinutes(utc(expected.fold_utc[1]), zone(inputs.zone))).toBe(90)
  })
  test(title(row("tz-21")), () => {
    const { inputs, expected } = row("tz-21")
    inputs.local.forEach((local: string, i: number) => {
      expect(at(local, inputs.zone)).toBe(utc(expected.utc[i]))
    })
  })
  test(title(row("tz-22")), () => {
    const { inputs, expected } = row("tz-22")
    expect(at(inputs.local, inputs.zone)).toBe(utc(expected.utc_first))
    expect(localMinutes(utc(expected.utc_second), zone(inputs.zone))).toBe(90)
  })
  test(title(row("tz-23")), () =>
    expect(isShown(row("tz-23").inputs.local, row("tz-23").inputs.zone)).toBe(row("tz-23").expected.exists),
  )
  test(title(row("tz-24")), () => {
    const { inputs, expected } = row("tz-24")
    expect(inputs.locals.map((local: string) => isShown(local, inputs.zone))).toEqual(expected.exists)
  })
  test(`${title(row("tz-25"))}; ${title(row("day-local-days"))}`, () => {
    const { inputs, expected } = row("tz-25")
    expect(inputs.days.map(([name, d]: [string, string]) => hoursOf(d, name))).toEqual(expected.hours)
    const newYork = row("day-local-days")
    expect(newYork.inputs.days.map((d: string) => hoursOf(d, newYork.inputs.zone))).toEqual(newYork.expected)
  })
})

describe("the calendar", () => {
  const leap = ({ inputs }: Row) => inputs.years.map(isLeapYear)
  test(title(row("leap-years")), () => expect(leap(row("leap-years"))).toEqual(row("leap-years").expected))
  test(title(row("cal-01")), () => expect(leap(row("cal-01"))).toEqual(row("cal-01").expected.leap))

  const between = ({ inputs }: Row) => inputs.pairs.map(([a, b]: [string, string]) => daysBetween(day(a), day(b)))
  test(title(row("leap-anniversary")), () =>
    expect(between(row("leap-anniversary"))).toEqual(row("leap-anniversary").expected),
  )
  test(title(row("cal-02")), () => expect(between(row("cal-02"))).toEqual(row("cal-02").expected.days))

  test(title(row("leap-day-doy")), () => {
    const { inputs, expected } = row("leap-day-doy")
    expect(inputs.days.map((d: string) => dayOfYear(day(d)))).toEqual(expected)
  })
  test(title(row("cal-03")), () => {
    const { inputs, expected } = row("cal-03")
    expect(inputs.dates.map((d: string) => dayOfYear(day(d)))).toEqual(expected.day_of_year)
  })
  test(title(row("weekday-2026-05-14")), () => {
    const { inputs, expected } = row("weekday-2026-05-14")
    expect(inputs.days.map((d: string) => weekday(day(d)))).toEqual(expected)
  })
})
