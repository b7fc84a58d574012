import { setTimeout as wait } from "node:timers/promises"
import { expect } from "vitest"
import type { Entry } from "../../src/garden/entry.ts"
import { addMs, type Instant, MINUTE_MS } from "../../src/values/instant.ts"
import { localMinutes, zone } from "../../src/values/zone.ts"
import type { Office } from "./workers.ts"

/** A text that was on its way when the stop came may still arrive: so much of the office's fast time is a few seconds of a busy machine. */
const ON_ITS_WAY_MS = 10 * MINUTE_MS

/** No worker's clock is wrong by more, and a busy machine reads it a little late. */
const SKEWED_MS = 4 * MINUTE_MS

export type Found = {
  lost: number
  doubled: number
  /** Texts that tell what is due, outside their person's hours by the clock that the workers share. */
  outsideHours: number
  /** The same, taken by the carrier after their person's stop was logged. */
  afterStop: number
  texts: number
  bodies: Set<string>
}

/** What the carrier's book and the logs must agree upon, whatever befell the workers. */
export async function judge(office: Office): Promise<Found> {
  const nudges = nudgesOf(office)
  const counts = office.phones.map((phone) => nudges.filter((text) => text.to === phone).length)
  const logs = await office.logs()
  for (const log of logs) {
    expect(log.map((entry) => entry.seq)).toEqual(log.map((_, i) => i + 1))
    const keys = log.flatMap((entry) => (entry.kind === "sent" && entry.message ? [entry.message] : []))
    expect(new Set(keys).size).toBe(keys.length)
  }
  // Each text that the carrier took stands in the log once, and the log tells of none that it did not take.
  const sent = logs.map((log) => log.filter((entry) => entry.kind === "sent").length)
  expect(sent).toEqual(counts.map((count) => Math.min(count, 1)))
  const later = await office.later()
  const stops = new Map(office.phones.map((phone, i) => [phone, stoppedAt(logs[i] ?? [])]))
  // Whoever was answered that morning hears at the next set time: their reminder must stand there.
  const isLost = (count: number, i: number) =>
    count === 0 &&
    stops.get(office.phones[i] as string) === null &&
    !(wasAnswered(logs[i] ?? []) && later.has(`plot-${i}`))
  const lost = counts.flatMap((count, i) => (isLost(count, i) ? [i] : []))
  for (const i of lost.slice(0, 5)) console.log(`plot-${i} heard nothing:`, await office.standing(i), logs[i]?.slice(1))
  const ahead = await office.ahead()
  expect(Math.abs(ahead)).toBeLessThan(SKEWED_MS)
  const outside = nudges.filter(({ madeAt }) => {
    const minutes = localMinutes(addMs(madeAt, ahead), zone("America/New_York"))
    return minutes < office.hours.from || minutes > office.hours.to
  })
  for (const { madeAt, body } of outside) console.log("outside hours:", new Date(madeAt).toISOString(), body)
  return {
    lost: lost.length,
    doubled: counts.reduce((sum, count) => sum + Math.max(0, count - 1), 0),
    outsideHours: outside.length,
    afterStop: nudges.filter(({ to, madeAt }) => madeAt > (stops.get(to) ?? Infinity) + ON_ITS_WAY_MS).length,
    texts: nudges.length,
    bodies: new Set(nudges.map((text) => text.body)),
  }
}

/** Nothing was lost, doubled, sent at night or to somebody who had said stop. */
export const NO_HARM = { lost: 0, doubled: 0, outsideHours: 0, afterStop: 0 }

function stoppedAt(log: readonly Entry[]): Instant | null {
  return log.find((entry) => entry.kind === "reply" && entry.acts.some(({ act }) => act === "stop"))?.at ?? null
}

function wasAnswered(log: readonly Entry[]): boolean {
  return log.some((entry) => entry.kind === "answer")
}

/** Texts that tell what is due, by its number; others answer. */
export function nudgesOf(office: Office) {
  return office.carrier.taken.filter((text) => text.body.startsWith("1) "))
}

/** Waits until the carrier has taken so many of them, however slow the machine is. */
export async function told(office: Office, count: number): Promise<void> {
  for (let i = 0; i < 3000 && nudgesOf(office).length < count; i += 1) await wait(100)
  expect(nudgesOf(office).length).toBeGreaterThanOrEqual(count)
}

/** Waits until there is nothing to do any more; false where there still is after so many seconds. */
export async function quiet(office: Office, seconds: number): Promise<boolean> {
  for (let i = 0; i < seconds * 2; i += 1) {
    const { outgoing, incoming } = await office.waiting()
    // Told, or answered before it was their turn; whoever says the carrier's own word for stop hears of it from the carrier.
    const heard = new Set([...office.carrier.taken.map((text) => text.to), ...(await office.stopped())]).size
    if (outgoing === 0 && incoming === 0 && heard === office.phones.length && (await office.due()) === 0) return true
    await wait(500)
  }
  return false
}

/** The carrier's own ids of the replies that the log holds. */
export function repliesIn(log: readonly Entry[]): string[] {
  return log.flatMap((entry) => (entry.kind === "reply" && entry.message ? [entry.message] : []))
}
