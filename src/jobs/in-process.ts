import cron from "node-cron"
import { MINUTE_MS } from "../values/instant.ts"

/** A beat that calls the bot's tick; `stop` waits for one that is under way. */
export type Beat = { stop(): Promise<void> }

/** No trial needs more ticks a second than this. */
const FASTEST_MS = 50

/**
 * Calls `tick` once a minute by the clock of the machine, in UTC so that no change of clocks leaves a gap, and never two
 * at once. The tick asks what is due up to now, so a minute that was missed is made up by the next. `speed` above 1 (a
 * trial clock) beats that many times faster, by plain intervals.
 */
export function beatEveryMinute(tick: () => Promise<void>, speed: number, onError: (error: unknown) => void): Beat {
  let running: Promise<void> | null = null
  const beat = () => {
    running ??= tick()
      .catch(onError)
      .finally(() => {
        running = null
      })
  }
  beat()
  const quiet = { info() {}, warn() {}, error: (message: unknown) => onError(message), debug() {} }
  if (speed > 1) {
    const timer = setInterval(beat, Math.max(FASTEST_MS, MINUTE_MS / speed))
    return {
      async stop() {
        clearInterval(timer)
        await running
      },
    }
  }
  const task = cron.schedule("* * * * *", beat, { timezone: "UTC", noOverlap: true, logger: quiet })
  return {
    async stop() {
      await task.destroy()
      await running
    },
  }
}
