import { asInstant, DAY_MS, type Instant, instantText } from "../values/instant.ts"
import { deliver } from "./deliver.ts"
import type { House } from "./house.ts"
import { applyIncoming } from "./receive.ts"
import { lookAfter, sendDigestsOf, serveGardens, settleLook } from "./rounds.ts"
import { sendDue } from "./send.ts"
import { WAITS } from "./waits.ts"
import { personRef } from "./who.ts"

/**
 * One minute's work: take up replies that were kept, place what changed, put what is due into words, send. It asks what
 * is due up to now, never what is due in this minute, so a machine that slept catches up by itself. An error of one
 * garden stays with it. While the house is on hold replies are still kept and applied; nothing is sent.
 */
export async function tick(house: House, now: Instant): Promise<void> {
  await noticeAway(house, now)
  await applyIncoming(house, now)
  const looked = await lookAfterDue(house, now)
  if (house.hold.reason === null) {
    await deliver(house, now)
    for (const id of looked) await sendDigestsOf(house, id, now)
  }
  for (const id of looked) await settleLook(house, id, now)
  if (house.hold.reason === null) await sendDue(house, now)
  await house.store.remember("tick", instantText(now))
  house.memory.lastTick = now
}

/** Looks after the gardens that are due, and names those that could be planned. */
async function lookAfterDue(house: House, now: Instant): Promise<string[]> {
  await serveGardens(house)
  const looked: string[] = []
  for (;;) {
    const due = await house.store.claimGardens(now, WAITS.gardenLeaseMs, WAITS.perTick)
    for (const id of due) if (await lookAfter(house, id, now)) looked.push(id)
    if (due.length < WAITS.perTick) return looked
  }
}

/** After a long silence everyone's next text says how long it was; a clock before the log's own time sends nothing. */
async function noticeAway(house: House, now: Instant): Promise<void> {
  const last = house.memory.lastTick ?? asInstant((await house.store.recall("tick")) ?? "")
  if (last === null) return
  if (now < last - WAITS.clockBackMs) {
    hold(house, "the clock stands before the last work that was done; set it right, and sending goes on by itself")
    return
  }
  if (house.hold.reason?.startsWith("the clock stands")) hold(house, null)
  const days = Math.floor((now - last) / DAY_MS)
  if (now - last < WAITS.awayMs || days < 1) return
  wasAway(house, days, now)
  await house.store.remember(AWAY, JSON.stringify({ days, until: instantText(now) }))
}

/** Under this name the store remembers the last long silence, for those who did not see it end. */
const AWAY = "away"

/** Everyone's next text says how long the bot was away. */
function wasAway(house: House, days: number, now: Instant): void {
  house.memory.backSince = now
  for (const garden of house.shelf.all())
    for (const person of garden.people) house.memory.away.set(personRef(garden.id, person.id), days)
}

function hold(house: House, reason: string | null): void {
  if (house.hold.reason === reason) return
  house.hold.reason = reason
  house.log.warn({ reason }, reason === null ? "sending goes on" : "sending is on hold")
}
