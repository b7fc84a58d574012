import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { createServer } from "node:net"
import { tmpdir } from "node:os"
import { join } from "node:path"
import type { Entry } from "../../src/garden/entry.ts"
import { openReadOnly } from "../../src/store/read-only.ts"
import { asInstant, DAY_MS, HOUR_MS, MINUTE_MS } from "../../src/values/instant.ts"
import { openCarrier } from "./carrier.ts"
import { type CarrierFaults, NO_FAULTS } from "./carrier-faults.ts"
import { type Chance, openChance } from "./chance.ts"
import { STRANGER, TALL, writeGardens } from "./gardens.ts"
import { begin, Died, type Life } from "./life.ts"
import { NO_POST_FAULTS, openPost, type PostFaults } from "./post.ts"
import { STEPS, type StepName, type Strike } from "./steps.ts"
import { someWords } from "./words.ts"

export const TOKEN = "0f1e2d3c4b5a69788796a5b4c3d2e1f0"
export const ACCOUNT = "AC0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b"
export const NUMBER = "+17175550100"
export const SECRET = "a-secret-that-no-log-line-may-hold"
const START = asInstant("2026-03-20T12:10:00Z") as number

export type WorldOptions = {
  seed: number
  /** The bug to plant, by name. */
  plant?: string | null
  /** Steps to strike at, in this order; each the `nth` time it is passed. */
  strikes: readonly Strike[]
  carrier: CarrierFaults
  post: PostFaults
  /** Stretches of time in which the process stays away after a kill, drawn from these shares. */
  downtime?: boolean
  /** One person says stop on the way. */
  stops?: boolean
  /** The clock of the machine is set wrong now and then. */
  clockJumps?: boolean
  /** Days without any fault at the end, in which everything may settle. */
  quietDays?: number
  /** Days to play where no strike is left. */
  calmDays?: number
}

/** All that the judge may look at. */
export type Outcome = {
  seed: number
  struck: Strike[]
  notReached: StepName[]
  carrier: Pick<Awaited<ReturnType<typeof openCarrier>>, "book" | "inbox" | "refusedAfterStop">
  post: Pick<Awaited<ReturnType<typeof openPost>>, "book" | "refused">
  stopped: { phone: string; sid: string }[]
  entries: Record<string, Entry[]>
  /** The plans as the living process had them at the end. */
  plans: unknown
  said: string
  /** What went wrong in a way that nobody asked for. */
  fatal: string[]
  began: number
  ended: number
  /** Longest the process was away, and the texts that each person got on its first day back. */
  returns: { awayMs: number; texts: number }[]
}

/** Plays one stretch of a spring with faults, by lots from a seed. */
export async function playWorld(options: WorldOptions): Promise<Outcome> {
  const world = new World(options)
  await world.open()
  try {
    return await world.play()
  } finally {
    await world.close()
  }
}

/** With so many milliseconds between two ticks where nothing happens. */
const CALM_TICK_MS = 30 * MINUTE_MS
const BUSY_TICK_MS = 2 * MINUTE_MS
/** A step that was not passed in so many days is left for another seed. */
const PATIENCE_DAYS: Partial<Record<StepName, number>> = {
  "digest rendered": 8,
  "digest in tx": 8,
  "digest committed": 8,
  "digest marked": 8,
  "lapsed in tx": 20,
}

class World {
  readonly #options: WorldOptions
  readonly #chance: Chance
  readonly #folder = mkdtempSync(join(tmpdir(), "ryebell-faults-"))
  #true = START
  #skew = 0
  #count = 0
  #port = 0
  #carrier!: Awaited<ReturnType<typeof openCarrier>>
  #post!: Awaited<ReturnType<typeof openPost>>
  #life: Life | null = null
  #spare: Life | null = null
  #armed: { strike: Strike; left: number } | null = null
  #hit = false
  #busy = 0
  #tall = new Map<string, number>()
  #lastWrote = new Map<string, number>()
  #said = ""
  #stopAt: number | null = null
  readonly #struck: Strike[] = []
  readonly #fatal: string[] = []
  readonly #stopped: { phone: string; sid: string }[] = []
  readonly #returns: { awayMs: number; texts: number }[] = []

  constructor(options: WorldOptions) {
    this.#options = options
    this.#chance = openChance(options.seed)
  }

  async open(): Promise<void> {
    this.#port = await freePort()
    const { carrier, post } = this.#options
    const now = () => this.#true
    const botNow = () => this.#true + this.#skew
    const count = () => ++this.#count
    const moment = (step: StepName) => this.#moment(step)
    const publicUrl = `http://127.0.0.1:${this.#port}`
    this.#carrier = await openCarrier({
      accountSid: ACCOUNT,
      authToken: TOKEN,
      number: NUMBER,
      chance: openChance(this.#options.seed + 1),
      faults: carrier,
      now,
      botNow,
      count,
      publicUrl,
      moment,
    })
    this.#post = await openPost({
      chance: openChance(this.#options.seed + 2),
      faults: post,
      now,
      botNow,
      count,
      moment,
    })
    writeGardens(join(this.#folder, "gardens"))
    this.#spare = begin(this.#options.plant ?? null)
  }

  async close(): Promise<void> {
    for (const life of [this.#life, this.#spare]) {
      if (!life || life.isGone()) continue
      life.kill()
      await life.gone
    }
    await this.#carrier.close()
    await this.#post.close()
    rmSync(this.#folder, { recursive: true, force: true })
  }

  async play(): Promise<Outcome> {
    const notReached: StepName[] = []
    await this.#born()
    if (this.#options.stops) this.#stopAt = this.#true + this.#chance.whole(3, 20) * DAY_MS
    for (const strike of this.#options.strikes) {
      if (!(await this.#until(strike))) notReached.push(strike.step)
      if (this.#fatal.length > 20) break
    }
    await this.#arm(null)
    await this.#days(this.#options.calmDays ?? 0)
    await this.#quiet(this.#options.quietDays ?? 9)
    const plans = await this.#life?.ask({ do: "plans" })
    await this.#life?.ask({ do: "close" })
    this.#said += this.#life?.said() ?? ""
    return {
      seed: this.#options.seed,
      struck: this.#struck,
      notReached,
      carrier: this.#carrier,
      post: this.#post,
      stopped: this.#stopped,
      entries: await this.#entries(),
      plans,
      said: this.#said,
      fatal: this.#fatal,
      began: START,
      ended: this.#true,
      returns: this.#returns,
    }
  }

  /** Plays on until the strike has struck, and past the restart; false where its step was not reached in time. */
  async #until(strike: Strike): Promise<boolean> {
    this.#hit = false
    await this.#arm(strike)
    const end = this.#true + (PATIENCE_DAYS[strike.step] ?? 4) * DAY_MS
    if (strike.step.startsWith("reload")) this.#touchGarden()
    if (strike.step === "opening in tx") {
      this.#life?.kill()
      await this.#life?.gone
      await this.#rebirth(strike)
    }
    while (!this.#hit && this.#true < end) await this.#advance()
    if (!this.#hit) {
      await this.#arm(null)
      return false
    }
    this.#struck.push(strike)
    return true
  }

  async #arm(strike: Strike | null): Promise<void> {
    this.#armed = strike && STEPS[strike.step].by !== "child" ? { strike, left: strike.nth } : null
    const own = strike && STEPS[strike.step].by === "child" ? strike : null
    await this.#life?.ask({ do: "arm", strike: own })
  }

  /** A stand-in is at this moment of the talk. */
  #moment(step: StepName): "gone" | "on" {
    if (this.#armed?.strike.step !== step) return "on"
    this.#armed.left -= 1
    if (this.#armed.left > 0) return "on"
    this.#armed = null
    this.#hit = true
    this.#life?.kill()
    return "gone"
  }

  async #days(days: number): Promise<void> {
    const end = this.#true + days * DAY_MS
    while (this.#true < end) await this.#advance()
  }

  async #quiet(days: number): Promise<void> {
    Object.assign(this.#carrier.faults, { ...NO_FAULTS, blocks: this.#carrier.faults.blocks })
    Object.assign(this.#post.faults, NO_POST_FAULTS)
    this.#skew = 0
    const end = this.#true + days * DAY_MS
    while (this.#true < end) await this.#advance("nobody writes")
  }

  /** The next moment at which something happens. */
  async #advance(mode: "people write" | "nobody writes" = "people write"): Promise<void> {
    const step = this.#busy > 0 ? BUSY_TICK_MS : CALM_TICK_MS
    if (this.#busy > 0) this.#busy -= 1
    const grid = Math.floor(this.#true / step + 1) * step
    this.#true = Math.min(grid, Math.max(this.#true + 1_000, this.#carrier.nextAt()))
    if (mode === "people write") this.#peopleWrite()
    try {
      if (!this.#life) throw new Died("nobody lives")
      await this.#life.ask({ do: "clock", now: this.#true + this.#skew })
      const before = this.#carrier.book.length
      const worked = await this.#carrier.work()
      if (worked > 0) await this.#life.ask({ do: "rest" })
      await this.#life.ask({ do: "tick", now: this.#true + this.#skew })
      if (worked > 0 || this.#carrier.book.length > before) this.#busy = 5
      this.#noteStruck()
    } catch (error) {
      await this.#failed(error)
    }
  }

  #noteStruck(): void {
    if (this.#life?.struck()) this.#hit = true
  }

  async #failed(error: unknown): Promise<void> {
    this.#noteStruck()
    if (!(error instanceof Died)) {
      // A strike that throws is an error that somebody asked for.
      if (!String(error).includes("a fault at the step")) this.#fatal.push(String(error))
      return
    }
    await this.#life?.gone
    await this.#rebirth(null)
  }

  /** Somebody starts the bot again, at once or after a while. `strike` is armed before it opens its store. */
  async #rebirth(strike: Strike | null): Promise<void> {
    this.#hit = true
    const downMs = this.#options.downtime ? this.#downtime() : 0
    const back = this.#true + downMs
    while (this.#true < back) {
      this.#true = Math.min(back, this.#true + CALM_TICK_MS)
      this.#peopleWrite()
      await this.#carrier.work()
    }
    if (this.#options.clockJumps)
      this.#skew = this.#chance.is(0.1) ? -2 * HOUR_MS : this.#chance.is(0.05) ? 20 * MINUTE_MS : 0
    await this.#born(strike)
    if (downMs >= DAY_MS) await this.#firstDayBack(downMs)
  }

  #downtime(): number {
    const draw = this.#chance.next()
    if (draw < 0.7) return 0
    if (draw < 0.9) return this.#chance.whole(2, 120) * MINUTE_MS
    return draw < 0.97 ? this.#chance.whole(3, 20) * HOUR_MS : this.#chance.whole(24, 60) * HOUR_MS
  }

  /** After a long time away: how many nudges came on the first half hour. */
  async #firstDayBack(awayMs: number): Promise<void> {
    const before = this.#carrier.book.length
    const end = this.#true + HOUR_MS
    while (this.#true < end && !this.#hit) await this.#advance("nobody writes")
    const perPhone = new Map<string, number>()
    for (const text of this.#carrier.book.slice(before))
      if (text.key?.startsWith("nudge:")) perPhone.set(text.to, (perPhone.get(text.to) ?? 0) + 1)
    this.#returns.push({ awayMs, texts: Math.max(0, ...perPhone.values()) })
  }

  async #born(strike: Strike | null = null): Promise<void> {
    for (let attempt = 0; attempt < 3; attempt += 1) {
      this.#said += this.#life?.said() ?? ""
      this.#life = this.#spare ?? begin(this.#options.plant ?? null)
      this.#spare = begin(this.#options.plant ?? null)
      try {
        if (strike && attempt === 0) await this.#life.ask({ do: "arm", strike })
        await this.#life.ask({ do: "open", env: this.#env(), now: this.#true + this.#skew })
        return
      } catch (error) {
        if (!(error instanceof Died)) this.#fatal.push(String(error))
        this.#life.kill()
        await this.#life.gone
      }
    }
    throw new Error(`the bot does not start any more:\n${this.#life?.said()}\n${this.#fatal.join("\n")}`)
  }

  #env(): Record<string, string> {
    return {
      RYEBELL_GARDEN: join(this.#folder, "gardens"),
      RYEBELL_DATA: join(this.#folder, "data"),
      PUBLIC_URL: `http://127.0.0.1:${this.#port}`,
      PORT: String(this.#port),
      TWILIO_ACCOUNT_SID: ACCOUNT,
      TWILIO_AUTH_TOKEN: TOKEN,
      TWILIO_FROM: NUMBER,
      TWILIO_API_URL: this.#carrier.url,
      SMTP_URL: this.#post.url,
      MAIL_FROM: "Ryebell <ryebell@example.net>",
      SECRET_KEY: SECRET,
      LOG_LEVEL: "debug",
    }
  }

  #peopleWrite(): void {
    const hour = new Date(this.#true).getUTCHours()
    for (const phone of Object.keys(TALL)) {
      if (this.#true - (this.#lastWrote.get(phone) ?? 0) < 11 * MINUTE_MS || !this.#chance.is(0.045)) continue
      this.#lastWrote.set(phone, this.#true)
      const tall = (this.#tall.get(phone) ?? 19) + 1
      this.#tall.set(phone, tall)
      const times = this.#chance.is(0.2) ? this.#chance.whole(2, 5) : 1
      this.#carrier.send(phone, someWords(phone, tall, this.#numbersSeen(phone), this.#chance), times)
    }
    if (hour === 15 && this.#chance.is(0.05)) this.#carrier.send(STRANGER, `who are you ${this.#true}`)
    if (this.#stopAt !== null && this.#true >= this.#stopAt) {
      this.#stopAt = null
      const phone = this.#chance.one(Object.keys(TALL))
      const words = this.#chance.one(["STOP", "opt out", "Stop. Thank you", "please stop texting me", "unsubscribe"])
      this.#stopped.push({ phone, sid: this.#carrier.send(phone, words, this.#chance.whole(1, 3)).sid })
    }
  }

  #numbersSeen(phone: string): number[] {
    const words = this.#carrier.book.filter((text) => text.to === phone).slice(-3)
    return words.flatMap((text) => [...text.body.matchAll(/\bDONE (\d+)/g)].map((found) => Number(found[1])))
  }

  #touchGarden(): void {
    const file = join(this.#folder, "gardens", "acre.yaml")
    const text = readFileSync(file, "utf8")
    writeFileSync(file, text.endsWith("# again\n") ? text.slice(0, -8) : `${text}# again\n`)
  }

  async #entries(): Promise<Record<string, Entry[]>> {
    const reader = await openReadOnly({ folder: join(this.#folder, "data") })
    if (!reader) throw new Error(`no store in ${readdirSync(this.#folder)}`)
    const entries: Record<string, Entry[]> = {}
    for (const garden of await reader.gardens()) entries[garden] = await reader.entries(garden)
    await reader.close()
    return entries
  }
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = createServer()
    server.listen(0, "127.0.0.1", () => {
      const { port } = server.address() as { port: number }
      server.close(() => resolve(port))
    })
  })
}
