import type { Instant } from "../values/instant.ts"
import { noteTick, noticeAway } from "./away.ts"
import { deliver } from "./deliver.ts"
import type { House } from "./house.ts"
import { applyIncoming } from "./receive.ts"
import { lookAfter, sendDigestsOf, serveGardens, settleLookOf } from "./rounds.ts"
import { sendDue } from "./send.ts"
import { WAITS } from "./waits.ts"

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
  for (const id of looked) await settleLookOf(house, id, now)
  if (house.hold.reason === null) await sendDue(house, now)
  await noteTick(house, now)
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
