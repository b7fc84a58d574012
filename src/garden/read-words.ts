import { asDay, type Day, dayOf, monthLength } from "../values/day.ts"
import { nearestWord } from "../values/nearest.ts"
import type { Minutes } from "../values/zone.ts"

/** What is wrong with a word of the garden file: a stable name, what would be right, and the nearest right word. */
export type Wrong = { wrong: string; expected: string; nearest?: string }
export type Read<T> = { value: T } | Wrong

export const ID_EXPECTED = "lower-case letters, digits and hyphens, at most 40"
const LONGEST_NAME = 40

/** Reads an id; one with other signs gives the id made of it as nearest. */
export function readId(text: string): Read<string> {
  if (/^[a-z0-9-]{1,40}$/.test(text)) return { value: text }
  const id = asId(text)
  return { wrong: "not-an-id", expected: ID_EXPECTED, ...(id ? { nearest: id } : {}) }
}

/** An id made of any words: `Long Acre 2` is `long-acre-2`; empty where nothing of them can stand in an id. */
export function asId(text: string): string {
  const plain = text.normalize("NFKD").replaceAll("ß", "ss").replace(/\p{M}/gu, "").toLowerCase()
  return plain
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, 40)
    .replace(/^-+|-+$/g, "")
}

/** Signs that steer a terminal, a mail's header or the direction of writing: no name may hold one. */
const STEERING = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u

/** Reads a name for people: 1 to 40 characters, none of which steers. */
export function readName(text: string): Read<string> {
  const name = text.trim().normalize("NFC")
  if (STEERING.test(name))
    return { wrong: "control-character", expected: "a name in one line, without control characters" }
  const length = [...name].length
  if (length >= 1 && length <= LONGEST_NAME) return { value: name }
  return { wrong: "name-length", expected: `a name of 1 to ${LONGEST_NAME} characters, not ${length}` }
}

/** Reads a phone in E.164: a plus sign, the country code, the number; 7 to 15 digits. Source: ITU-T E.164, from memory. */
export function readPhone(text: string): Read<string> {
  if (/^\+[1-9]\d{6,14}$/.test(text)) return { value: text }
  const digits = text.replace(/[\s().\-/]/g, "").replace(/^00/, "+")
  const nearest = /^1\d{10}$/.test(digits) ? `+${digits}` : digits
  return {
    wrong: "not-a-phone",
    expected: "a phone as +, country code and number without spaces, such as +17175550142 (E.164)",
    ...(/^\+[1-9]\d{6,14}$/.test(nearest) ? { nearest } : {}),
  }
}

const MAIL_NAME = `[A-Za-z0-9!#$%&'*+/=?^_{|}~.-]+`
const MAIL = new RegExp(String.raw`^${MAIL_NAME}@(?:[A-Za-z0-9-]+\.)+[A-Za-z0-9-]{2,}$`)

/** Reads a mail address: letters, digits and the usual signs, one @, a domain with a dot; at most 254 characters. */
export function readMail(text: string): Read<string> {
  const isFit = MAIL.test(text) && text.length <= 254 && !/^\.|\.\.|\.@/.test(text)
  return isFit ? { value: text } : { wrong: "not-a-mail-address", expected: "a mail address, such as ines@example.org" }
}

/** Reads a day of the calendar; says whether its shape is wrong or there is no such day. */
export function readDay(text: string): Read<Day> {
  const found = asDay(text)
  if (found && found >= "1900" && found < "2200") return { value: found }
  if (found) return { wrong: "day-implausible", expected: "a day of the years 1900 to 2199" }
  const exact = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text)
  if (exact) {
    const [year, month] = [Number(exact[1]), Number(exact[2])]
    const last = month >= 1 && month <= 12 ? dayOf(year, month, monthLength(year, month)) : null
    const nearest = last && Number(exact[3]) > 0 ? { nearest: last } : {}
    return { wrong: "no-such-day", expected: "a day that is in the calendar", ...nearest }
  }
  const near = nearDay(text)
  return { wrong: "not-a-day", expected: "a day as YYYY-MM-DD, such as 2025-09-20", ...(near ? { nearest: near } : {}) }
}

/** The day meant by another way of writing, where only one can be meant. */
function nearDay(text: string): Day | null {
  const yearFirst = /^(\d{4})[-./ ](\d{1,2})[-./ ](\d{1,2})(?:[T ].*)?$/.exec(text)
  if (yearFirst) return dayOf(Number(yearFirst[1]), Number(yearFirst[2]), Number(yearFirst[3]))
  const yearLast = /^(\d{1,2})[-./ ](\d{1,2})[-./ ](\d{4})$/.exec(text)
  if (!yearLast) return null
  const [a, b, year] = [Number(yearLast[1]), Number(yearLast[2]), Number(yearLast[3])]
  if (a > 12) return dayOf(year, b, a)
  return b > 12 || a === b ? dayOf(year, a, b) : null
}

/** Reads a day of every year, MM-DD; 02-29 is one. */
export function readMonthDay(text: string): Read<string> {
  const parts = /^(\d{1,2})-(\d{1,2})$/.exec(text)
  const [month, dayOfMonth] = [Number(parts?.[1]), Number(parts?.[2])]
  const exists = parts !== null && dayOf(2000, month, dayOfMonth) !== null
  const tidy = `${String(month).padStart(2, "0")}-${String(dayOfMonth).padStart(2, "0")}`
  if (exists && tidy === text) return { value: text }
  return {
    wrong: parts && !exists ? "no-such-day" : "not-a-day",
    expected: "a day of the year as MM-DD, such as 05-04",
    ...(exists ? { nearest: tidy } : {}),
  }
}

/** Reads a time of the day, `HH:MM` (or `H:MM`), as minutes after midnight. */
export function readTime(text: string): Read<Minutes> {
  const parts = /^(\d{1,2}):(\d{2})$/.exec(text)
  const [hour, minute] = [Number(parts?.[1]), Number(parts?.[2])]
  if (parts && hour <= 23 && minute <= 59) return { value: hour * 60 + minute }
  const near = nearTime(text)
  return { wrong: "not-a-time", expected: "a time as HH:MM, 00:00 to 23:59", ...(near ? { nearest: near } : {}) }
}

function nearTime(text: string): string | null {
  const parts = /^(\d{1,2})(?:[:.](\d{2}))?\s*([ap])?\.?m?\.?$/i.exec(text.trim())
  if (!parts) return null
  const half = parts[3]?.toLowerCase()
  const hour = half ? (Number(parts[1]) % 12) + (half === "p" ? 12 : 0) : Number(parts[1])
  const minute = Number(parts[2] ?? 0)
  return hour <= 23 && minute <= 59 ? `${String(hour).padStart(2, "0")}:${String(minute).padStart(2, "0")}` : null
}

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/

/** Reads a number between two bounds, both of them in. */
export function readBetween(text: string, low: number, high: number, unit = ""): Read<number> {
  const expected = `a number from ${low} to ${high}${unit ? ` ${unit}` : ""}, with a point for the decimals`
  if (!NUMBER.test(text)) {
    const withPoint = text.replace(",", ".")
    return { wrong: "not-a-number", expected, ...(NUMBER.test(withPoint) ? { nearest: withPoint } : {}) }
  }
  const value = Number(text)
  return value >= low && value <= high ? { value } : { wrong: "out-of-range", expected }
}

/** Reads a whole number between two bounds, both of them in. */
export function readCount(text: string, low: number, high: number): Read<number> {
  const read = readBetween(text, low, high)
  const expected = `a whole number from ${low} to ${high}`
  if ("wrong" in read) return { ...read, expected }
  return Number.isInteger(read.value) ? read : { wrong: "not-a-number", expected }
}

/** Reads a share of a mix as percent (`40`, `40%`) or fraction (`0.4`): any number above 0, made whole with the others. */
export function readShare(text: string): Read<number> {
  const digits = text.replace(/\s*%$/, "")
  const value = NUMBER.test(digits) ? Number(digits) : Number.NaN
  if (value > 0 && value <= 100) return { value }
  const wrong = Number.isNaN(value) ? "not-a-number" : "out-of-range"
  return { wrong, expected: "a share above 0, as percent (40) or fraction (0.4)" }
}

/** Reads one of a few words. */
export function readChoice<Word extends string>(text: string, words: readonly Word[]): Read<Word> {
  const found = words.find((word) => word === text)
  if (found) return { value: found }
  const lower = text.toLowerCase()
  const begun = lower.length > 1 ? words.find((word) => word.startsWith(lower)) : undefined
  const nearest = begun ?? nearestWord(text, words)
  return { wrong: "unknown-word", expected: listOf(words), ...(nearest ? { nearest } : {}) }
}

/** Words as a list for a sentence: `a, b or c`. */
export function listOf(words: readonly string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`
}
