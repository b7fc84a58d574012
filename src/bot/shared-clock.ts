import { asInstant, type Instant, instantOf, instantText } from "../values/instant.ts"
import type { Clock, Store } from "./needs.ts"

/** A store whose server has a clock of its own. */
export type TimedStore = Pick<Store, "recall" | "remember"> & { time(): Promise<Instant> }

/** A clock that several processes share; `again` sets it anew by the server's. */
export type SharedClock = Clock & { again(): Promise<void> }

/** Under this name the store remembers where a trial's clock stood, at what time of the server's, and how fast it runs. */
const TRIAL = "trial clock"

/**
 * The clock of the database server, which all workers go by: their own may differ by minutes (failure T21), and then one
 * would text before the hours of another, and not find in the carrier's list what the other sent. Between two looks it goes on
 * by the machine's own beat. A trial's clock (`speed` times as fast as life) goes on from where the first of its workers began it.
 */
export async function sharedClock(own: Clock, store: TimedStore, speed: number | null): Promise<SharedClock> {
  let server = { at: 0, beat: 0 }
  let trial = { at: 0, shows: 0, speed: 1 }

  async function again(): Promise<void> {
    const before = performance.now()
    const time = await store.time()
    const after = performance.now()
    // The server looked at its clock somewhere between.
    server = { at: time, beat: (before + after) / 2 }
    if (speed === null) return
    const [at, shows, times] = ((await store.recall(TRIAL)) ?? "").split(" ")
    const known = { at: asInstant(at ?? ""), shows: asInstant(shows ?? ""), speed: Number(times) }
    if (known.at !== null && known.shows !== null && known.speed > 0)
      trial = { at: known.at, shows: known.shows, speed: known.speed }
    else {
      trial = { at: time, shows: own.now(), speed }
      await store.remember(TRIAL, `${instantText(time)} ${instantText(own.now())} ${speed}`)
    }
  }

  await again()
  return {
    again,
    now() {
      const time = server.at + (performance.now() - server.beat)
      return instantOf(speed === null ? time : trial.shows + (time - trial.at) * trial.speed)
    },
  }
}
