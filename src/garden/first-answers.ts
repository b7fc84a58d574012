import type { Climate } from "../handbook/climate.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { addDays, type Day, dayOf, daysBetween, partsOf } from "../values/day.ts"
import { nearestWord } from "../values/nearest.ts"
import type { DateOrder } from "./garden.ts"
import { type Read, readDay, type Wrong } from "./read-words.ts"

/** Answers of a person to the questions about a first garden, read leniently: whatever is plain is taken. */

/** A spot on the map, named where it is a town's. */
export type Spot = { lat: number; lon: number; name: string | null }

const COORDINATES = /^([+-]?\d{1,3}(?:\.\d+)?)\s*°?\s*([NS])?\s*[,;\s]\s*([+-]?\d{1,3}(?:\.\d+)?)\s*°?\s*([EW])?$/i
const WITH_COMMAS = /^([+-]?\d{1,3},\d+)\s*°?\s*([NS])?\s*[;\s]\s*([+-]?\d{1,3},\d+)\s*°?\s*([EW])?$/i

/** Reads `40.04, -76.31`, `40.04 N 76.31 W` or `47,99 7,85`; null where the answer has no such shape. */
export function readCoordinates(answer: string): Read<Spot> | null {
  const text = answer.trim()
  const parts = WITH_COMMAS.exec(text) ?? COORDINATES.exec(text)
  if (!parts) return null
  const value = (digits: string, side: string | undefined) =>
    Number(digits.replace(",", ".")) * (side && /[SW]/i.test(side) ? -1 : 1)
  const [lat, lon] = [value(parts[1]!, parts[2]), value(parts[3]!, parts[4])]
  if (Math.abs(lat) <= 90 && Math.abs(lon) <= 180) return { value: { lat, lon, name: null } }
  const swapped = Math.abs(lon) <= 90 ? "; they may be swapped" : ""
  return { wrong: "out-of-range", expected: `latitude -90 to 90 first, then longitude -180 to 180${swapped}` }
}

/** The most towns that are offered for one name. */
const MOST_TOWNS = 9

/**
 * The weather stations that a town's name fits, best first. The name may be followed by a state or country; where no
 * station of the name lies there, those elsewhere are given and `elsewhere` is true.
 */
export function townsCalled(answer: string, climates: Handbook["climates"]): { towns: Climate[]; elsewhere: boolean } {
  const [town = "", ...region] = plain(answer).split(" , ")
  const found: { climate: Climate; rank: number; inRegion: boolean }[] = []
  for (const id of climates.ids()) {
    const climate = climates.byId(id)
    if (!climate || town === "") continue
    const name = plain(climate.name)
    const rank =
      name === town ? 0 : `${name} `.startsWith(`${town} `) ? 1 : ` ${name} `.includes(` ${town} `) ? 2 : null
    const where = ` ${name} ${plain(climate.where)} ${id.replaceAll("-", " ")} `
    if (rank !== null) found.push({ climate, rank, inRegion: region.every((word) => where.includes(` ${word} `)) })
  }
  const there = found.filter(({ inRegion }) => inRegion)
  const best = (there.length > 0 ? there : found).toSorted((a, b) => a.rank - b.rank)
  return {
    towns: best.slice(0, MOST_TOWNS).map(({ climate }) => climate),
    elsewhere: there.length === 0 && best.length > 0,
  }
}

function plain(text: string): string {
  const letters = text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase()
  return letters
    .replace(/,/g, " , ")
    .replace(/[^\p{L}\p{N},]+/gu, " ")
    .trim()
}

/** One thing named by a person: its id, or the ids it could be, or the nearest. */
export type Named = { ids: string[]; word: string } | Wrong

type Entries = ReadonlyMap<string, { id: string; names: readonly string[] }>

/** What a word names among species or crops, by id or by any name people use; singular and plural alike. */
export function named(word: string, entries: Entries, kind: string): Named {
  const wanted = plain(word)
  const forms = [wanted, wanted.replace(/e?s$/, ""), `${wanted}s`]
  const ids = [...entries.values()].filter(({ id, names }) =>
    [id.replaceAll("-", " "), ...names.map(plain)].some((name) => name === wanted || forms.slice(1).includes(name)),
  )
  if (ids.length > 0) return { ids: ids.map(({ id }) => id), word: wanted }
  const names = [...entries.values()].flatMap((entry) => entry.names)
  const nearest = nearestWord(wanted, names)
  return { wrong: `unknown-${kind}`, expected: `a ${kind} such as ${names[0]}`, ...(nearest ? { nearest } : {}) }
}

/** Words of a mix with their shares where given: `rye 60, vetch 40`, `60% rye and 40% vetch`, `oats + peas`. */
export function wordsOfMix(answer: string): { word: string; share: number | null }[] {
  const parts = answer.split(/\s*(?:,|;|\+|&|\/|\band\b|\bund\b|\bwith\b)\s*/i).filter((part) => part.trim() !== "")
  return parts.map((part) => {
    const share = /(\d+(?:\.\d+)?)\s*%?/.exec(part)
    const word = part
      .replace(/\d+(?:\.\d+)?\s*%?/, " ")
      .replace(/\s+/g, " ")
      .trim()
    return { word, share: share ? Number(share[1]) : null }
  })
}

const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"]
const DAY_EXPECTED = "a day such as 2025-09-20, 20 September, today or 3 weeks ago"

/**
 * Reads a day as people say it: `2025-09-20`, `20 Sep`, `September 20 2025`, `9/20` in the gardener's order, `today`,
 * `yesterday`, `3 weeks ago`, `in 2 weeks`. Without a year it is the nearest such day to `near`.
 */
export function readSaidDay(answer: string, today: Day, order: DateOrder, near: Day = today): Read<Day> {
  const text = answer
    .trim()
    .toLowerCase()
    .replace(/(\d)(?:st|nd|rd|th)\b/, "$1")
    .replace(/[.,]/g, " ")
    .replace(/\s+/g, " ")
    .trim()
  const wrong: Wrong = { wrong: "not-a-day", expected: DAY_EXPECTED }
  if (/^\d{4}-/.test(text)) return readDay(text)
  const relative: Record<string, number> = {
    today: 0,
    now: 0,
    yesterday: -1,
    tomorrow: 1,
    "last week": -7,
    "next week": 7,
  }
  const days = relative[text] ?? spanOf(text)
  if (days !== null && days !== undefined) return { value: addDays(today, days) }
  const said = monthDayIn(text, order)
  if (!said) return wrong
  const [month, dayOfMonth, year] = said
  const found = year === null ? nearestYear(month, dayOfMonth, near) : dayOf(year, month, dayOfMonth)
  return found ? { value: found } : { wrong: "no-such-day", expected: "a day that is in the calendar" }
}

function spanOf(text: string): number | null {
  const parts = /^(in )?(a|an|one|\d{1,3}) (day|week|month)s?( ago)?$/.exec(text)
  if (!parts || (!parts[1] && !parts[4])) return null
  const count = /\d/.test(parts[2]!) ? Number(parts[2]) : 1
  return count * { day: 1, week: 7, month: 30 }[parts[3] as "day" | "week" | "month"] * (parts[4] ? -1 : 1)
}

function monthDayIn(text: string, order: DateOrder): [number, number, number | null] | null {
  const year = (digits: string | undefined) =>
    digits === undefined ? null : Number(digits) + (digits.length === 2 ? 2000 : 0)
  const inLetters = /^(?:(\d{1,2}) ([a-z]{3,})|([a-z]{3,}) (\d{1,2}))(?: (\d{4}))?$/.exec(text)
  if (inLetters) {
    const month = MONTHS.indexOf((inLetters[2] ?? inLetters[3])!.slice(0, 3)) + 1
    return month === 0 ? null : [month, Number(inLetters[1] ?? inLetters[4]), year(inLetters[5])]
  }
  const inDigits = /^(\d{1,2})([/\- ])(\d{1,2})(?:\2(\d{4}|\d{2}))?$/.exec(text)
  if (!inDigits) return null
  const [first, second] = [Number(inDigits[1]), Number(inDigits[3])]
  return order === "month-first" ? [first, second, year(inDigits[4])] : [second, first, year(inDigits[4])]
}

function nearestYear(month: number, dayOfMonth: number, near: Day): Day | null {
  const around = [-1, 0, 1].flatMap((off) => dayOf(partsOf(near).year + off, month, dayOfMonth) ?? [])
  const far = (day: Day) => Math.abs(daysBetween(near, day))
  return around.toSorted((a, b) => far(a) - far(b))[0] ?? null
}
