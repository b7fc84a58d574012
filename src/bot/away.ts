import { asInstant, DAY_MS, type Instant, instantText } from "../values/instant.ts"
import { CLOCK_HOLD, count, type House, setHold } from "./house.ts"
import { WAITS } from "./waits.ts"
import { personRef } from "./who.ts"

/** Under this name the store remembers the last long silence, for those who did not see it end. */
const AWAY = "away"

/** After a long silence everyone's next text says how long it was; a clock before the log's own time sends nothing. */
export async function noticeAway(house: House, now: Instant): Promise<void> {
  const last = house.memory.lastTick ?? asInstant((await house.store.recall("tick")) ?? "")
  if (last === null) return
  if (now < last - WAITS.clockBackMs) {
    // Another reason to hold outlives a wrong clock.
    if (house.hold.reason === null) setHold(house, CLOCK_HOLD)
    return
  }
  if (house.hold.reason === CLOCK_HOLD) setHold(house, null)
  const days = Math.floor((now - last) / DAY_MS)
  if (now - last < WAITS.awayMs || days < 1) return
  wasAway(house, days, now)
  await house.store.remember(AWAY, `${days} ${instantText(now)}`)
}

/** Takes down that a minute's work was done. Under a wrong clock it is not: what was known of the time must not go back with it. */
export async function noteTick(house: House, now: Instant): Promise<void> {
  if (house.memory.lastTick !== null && now < house.memory.lastTick - WAITS.clockBackMs) return
  if (house.hold.reason === CLOCK_HOLD) return
  await house.store.remember("tick", instantText(now))
  count(house, "minute")
  house.memory.lastTick = now
}

/** Takes over what another worker noticed. */
export async function learnAway(house: House): Promise<void> {
  const [days, back] = ((await house.store.recall(AWAY)) ?? "").split(" ")
  const backSince = asInstant(back ?? "")
  if (backSince === null || backSince === house.memory.backSince) return
  // What ended long ago has been told.
  if (house.clock.now() - backSince < WAITS.awayToldMs) wasAway(house, Number(days), backSince)
}

function wasAway(house: House, days: number, back: Instant): void {
  house.memory.backSince = back
  for (const garden of house.shelf.all())
    for (const person of garden.people) house.memory.away.set(personRef(garden.id, person.id), days)
}
