import type { Health } from "./needs.ts"

/** A watcher that does not answer in this time is not waited for. */
const PATIENCE_MS = 10_000

export type AliveOptions = {
  /** Where the watcher waits for the sign. */
  url: string
  health(): Promise<Health>
  /** What became of the last sign; null: it was taken. */
  note(trouble: string | null): void
  /** Ends what is under way when the bot stops. */
  closing?: AbortSignal
  patienceMs?: number
}

/**
 * A sign of life for a watcher outside, who raises the alarm where none comes: silence of a bot that is dead looks like a
 * day on which nothing is due (failure O12). It is given only where the bot is well, and not while the one before is still
 * under way. Never throws.
 */
export function openAlive({ url, health, note, closing, patienceMs = PATIENCE_MS }: AliveOptions): () => Promise<void> {
  let isGiving = false
  return async () => {
    if (isGiving) return
    isGiving = true
    try {
      if (!(await health()).ok) return
      const late = AbortSignal.timeout(patienceMs)
      const signal = closing ? AbortSignal.any([closing, late]) : late
      // The address is a secret between the owner and the watcher: nobody it sends us on to is told.
      const answer = await fetch(url, { redirect: "manual", signal })
      await answer.body?.cancel()
      note(answer.ok ? null : `the watcher answered ${answer.status}`)
    } catch {
      if (!closing?.aborted) note("the watcher does not answer")
    } finally {
      isGiving = false
    }
  }
}
