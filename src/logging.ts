import pino, { type DestinationStream } from "pino"
import type { Logbook } from "./bot/house.ts"
import { printable } from "./channels/terminal.ts"

/** Anything that looks like a phone number, a mail address, a signed link or a mailbox password in free text. */
const PRIVATE: [RegExp, string][] = [
  [/\b([a-z][a-z0-9+.-]*:\/\/)[^\s/@:]+:[^\s/@]+@/gi, "$1***@"],
  [/[^\s<>"'(),;:]+@[^\s<>"'(),;:]+\.[a-z]{2,}/gi, "***@***"],
  [/\+\d[\d ()-]{6,}\d/g, "+***"],
  [/\/(season|calendar|mail|photo)\/[A-Za-z0-9_.~-]+/g, "/$1/***"],
]

/** Keys whose values are private wherever they stand in a log line. */
const KEYS = [
  "phone",
  "email",
  "to",
  "from",
  "text",
  "subject",
  "html",
  "body",
  "token",
  "authToken",
  "secretKey",
  "password",
  "pass",
  "authorization",
]

/** Controls that JSON lets stand as they are: terminals obey some, and readers break lines at others (failure X8). */
const UNSEEN = /[\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g

/** Strikes out phones, addresses, tokens and passwords in a sentence, and spells out letters that a terminal would obey. */
export function redact(sentence: string): string {
  const plain = sentence.replace(UNSEEN, (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, "0")}`)
  return PRIVATE.reduce((text, [pattern, instead]) => text.replace(pattern, instead), plain)
}

/** The operator's log: JSON lines on standard error, with everything private struck out. */
export function openLogbook(
  level: string,
  destination: DestinationStream = pino.destination({ fd: 2, sync: true }),
): Logbook {
  const logger = pino(
    {
      level,
      base: null,
      timestamp: pino.stdTimeFunctions.isoTime,
      redact: { paths: KEYS.flatMap((key) => [key, `*.${key}`, `*.*.${key}`]), censor: "***" },
      formatters: { level: (label) => ({ level: label }), log: (line) => redactDeep(line) as Record<string, unknown> },
      hooks: {
        logMethod(args, method) {
          method.apply(
            this,
            args.map((arg) => (typeof arg === "string" ? redact(arg) : arg)) as Parameters<typeof method>,
          )
        },
      },
    },
    destination,
  )
  return {
    debug: (what, message) => logger.debug(what, message),
    info: (what, message) => logger.info(what, message),
    warn: (what, message) => logger.warn(what, message),
    error: (what, message) => logger.error(what, message),
  }
}

/** The same log for a person at a terminal: a line of words for each thing said, without the marks of JSON. */
export function plainLines(line: (text: string) => void): DestinationStream {
  return {
    write(json) {
      const { level, time: _, msg, ...rest } = JSON.parse(json) as Record<string, unknown>
      const details = Object.entries(rest).map(([name, value]) => `${name}: ${plainValue(value)}`)
      line(printable(`${level}: ${msg}${details.length > 0 ? ` (${details.join("; ")})` : ""}`).replaceAll("\n", " "))
    },
  }
}

function plainValue(value: unknown): string {
  if (typeof value === "object" && value !== null && "message" in value) return String(value.message)
  return typeof value === "string" ? value : JSON.stringify(value)
}

function redactDeep(value: unknown): unknown {
  if (typeof value === "string") return redact(value)
  if (value instanceof Error)
    return { type: value.name, message: redact(value.message), stack: redact(value.stack ?? "") }
  if (Array.isArray(value)) return value.map(redactDeep)
  if (typeof value === "object" && value !== null)
    return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, redactDeep(each)]))
  return value
}
