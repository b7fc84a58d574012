import type { Health } from "./needs.ts"

/** A watcher that does not answer in this time is not waited for. */
const PATIENCE_MS = 10_000

export type AliveOptions = {
  /** Where the watcher waits for the sign. */
  url: string
  health(): Promise<Health>
  /** What became of the last sign; null: it was taken. */
  note(trouble: string | null): void
}

/**
 * A sign of life for a watcher outside, who raises the alarm where none comes: silence of a bot that is dead looks like a
 * day on which nothing is due (failure O12). It is given only where the bot is well. Never throws.
 */
export function openAlive({ url, health, note }: AliveOptions): () => Promise<void> {
  return async () => {
    try {
      if (!(await health()).ok) return
      const { ok, status } = await fetch(url, { signal: AbortSignal.timeout(PATIENCE_MS) })
      note(ok ? null : `the watcher answered ${status}`)
    } catch {
      note("the watcher does not answer")
    }
  }
}
