import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../src/values/instant.ts"
import type { Carrier } from "./carrier.ts"
import type { Chance } from "./chance.ts"
import { STRANGER, WRITERS } from "./gardens.ts"
import { START } from "./scene.ts"
import { someWords, type Writer } from "./words.ts"

/** Ways to say stop, of which the carrier itself knows only some. */
const STOPS = ["STOP", "opt out", "Stop. Thank you", "please stop texting me", "unsubscribe", "no more texts"]

/** The people of the gardens: each writes about once a day, answers what they were told, and one may say stop. */
export class Writers {
  readonly #writers: Writer[]
  readonly #carrier: Carrier
  readonly #chance: Chance
  readonly #tall = new Map<string, number>()
  readonly #next = new Map<string, number>()
  #stopAt: number | null
  readonly stopped: { phone: string; sid: string }[] = []

  constructor(gardens: readonly string[], carrier: Carrier, chance: Chance, stops: boolean) {
    this.#writers = gardens.flatMap((name) => WRITERS[name] ?? [])
    this.#carrier = carrier
    this.#chance = chance
    this.#stopAt = stops ? START + chance.whole(3, 20) * DAY_MS : null
    // Everybody says yes before anything is due to them.
    for (const { phone } of this.#writers) carrier.send(phone, "JOIN")
  }

  /** Whoever has something to say at this time says it. */
  write(now: number): void {
    const chance = this.#chance
    for (const writer of this.#writers) {
      const { phone } = writer
      const next = this.#next.get(phone) ?? now + chance.whole(1, 20) * HOUR_MS
      this.#next.set(phone, next)
      if (now < next) continue
      this.#next.set(phone, now + chance.whole(20, 50 * 60) * MINUTE_MS)
      const tall = (this.#tall.get(phone) ?? 19) + 1
      this.#tall.set(phone, tall)
      const times = chance.is(0.2) ? chance.whole(2, 5) : 1
      this.#carrier.send(phone, someWords(writer, tall, this.#numbersSeen(phone), chance), times)
    }
    if (chance.is(0.003)) this.#carrier.send(STRANGER, `who are you ${now}`)
    if (this.#stopAt !== null && now >= this.#stopAt) this.#stop()
  }

  #stop(): void {
    this.#stopAt = null
    const { phone } = this.#chance.one(this.#writers)
    const sent = this.#carrier.send(phone, this.#chance.one(STOPS), this.#chance.whole(1, 3))
    this.stopped.push({ phone, sid: sent.sid })
  }

  #numbersSeen(phone: string): number[] {
    const words = this.#carrier.book.filter((text) => text.to === phone).slice(-3)
    return words.flatMap((text) => [...text.body.matchAll(/\bDONE (\d+)/g)].map((found) => Number(found[1])))
  }
}
