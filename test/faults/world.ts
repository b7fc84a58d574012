import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { setTimeout as sleep } from "node:timers/promises"
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../src/values/instant.ts"
import { type Carrier, openCarrier } from "./carrier.ts"
import { NO_FAULTS } from "./carrier-faults.ts"
import { type Chance, openChance } from "./chance.ts"
import { writeGardens } from "./gardens.ts"
import { begin, Died, type Life } from "./life.ts"
import { environment, freePort, memoryFolder, readLog } from "./places.ts"
import { NO_POST_FAULTS, openPost, type Post } from "./post.ts"
import { ACCOUNT, NUMBER, type Outage, type Outcome, START, TOKEN, type WorldOptions } from "./scene.ts"
import { STEPS, type StepName, type Strike } from "./steps.ts"
import { Writers } from "./writers.ts"

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

/** A strike that throws is an error that somebody asked for. */
function isAskedFor(error: unknown): boolean {
  return String(error).includes("a fault at the step")
}

/** With so many milliseconds between two ticks where nothing happens. */
const CALM_TICK_MS = 60 * MINUTE_MS
const BUSY_TICK_MS = 2 * MINUTE_MS
/** A step that was not passed in so many days is left for another seed. */
const PATIENCE_DAYS: Partial<Record<StepName, number>> = {
  "digest rendered": 8,
  "digest in tx": 8,
  "digest committed": 8,
  "digest marked": 8,
  "lapsed in tx": 25,
  "due known": 10,
  composed: 10,
  "outbox in tx": 10,
  "outbox committed": 10,
  "mail half written": 8,
  "mail taken": 8,
}

/** Steps that are only passed where an answer of the carrier was lost: more of them are then. */
const NEEDS_LOSS: readonly StepName[] = ["asking the list", "list answered", "reconciled in tx"]

class World {
  readonly #options: WorldOptions
  readonly #chance: Chance
  readonly #folder = mkdtempSync(join(memoryFolder(), "ryebell-faults-"))
  #true = START
  #skew = 0
  #count = 0
  #port = 0
  #carrier!: Carrier
  #post!: Post
  #writers!: Writers
  #life: Life | null = null
  #spare: Life | null = null
  #armed: { strike: Strike; left: number } | null = null
  #hit = false
  #busy = 0
  #longestMs = 0
  #said = ""
  readonly #gardens: readonly string[]
  readonly #struck: Strike[] = []
  readonly #fatal: string[] = []
  readonly #returns: { awayMs: number; texts: number }[] = []

  constructor(options: WorldOptions) {
    this.#options = options
    this.#gardens = options.gardens ?? ["acre.yaml", "marsh.yaml", "hill.yaml"]
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
    this.#writers = new Writers(this.#gardens, this.#carrier, this.#chance, this.#options.stops ?? false)
    writeGardens(join(this.#folder, "gardens"), this.#gardens)
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
      gardens: this.#gardens,
      listNever: this.#options.listNever ?? false,
      outageMs: Math.max(this.#longestMs, ...(this.#options.outages ?? []).map((outage) => outage.ms)),
      struck: this.#struck,
      notReached,
      carrier: this.#carrier,
      post: this.#post,
      stopped: this.#writers.stopped,
      entries: await readLog(this.#folder),
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
    if (strike.step.startsWith("reload")) await this.#touchGarden()
    if (strike.step === "opening in tx") {
      this.#life?.kill()
      await this.#life?.gone
      await this.#rebirth(strike)
    }
    const { lostAfter } = this.#carrier.faults
    if (NEEDS_LOSS.includes(strike.step)) this.#carrier.faults.lostAfter = 0.5
    while (!this.#hit && this.#true < end) await this.#advance()
    this.#carrier.faults.lostAfter = lostAfter
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
    Object.assign(this.#carrier.faults, {
      ...NO_FAULTS,
      blocks: this.#carrier.faults.blocks,
      listFails: this.#options.listNever ? 1 : 0,
    })
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
    if (mode === "people write") this.#writers.write(this.#true)
    this.#setOutages()
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

  #setOutages(): void {
    const day = (this.#true - START) / DAY_MS
    const isOff = (who: Outage["who"]) =>
      this.#options.outages?.some(
        (each) => each.who === who && day >= each.fromDay && day < each.fromDay + each.ms / DAY_MS,
      )
    this.#carrier.faults.off = isOff("carrier") ?? false
    this.#post.faults.off = isOff("post") ?? false
  }

  #noteStruck(): void {
    if (this.#life?.struck()) this.#hit = true
  }

  async #failed(error: unknown): Promise<void> {
    this.#noteStruck()
    if (!(error instanceof Died)) {
      if (!isAskedFor(error)) this.#fatal.push(String(error))
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
    this.#longestMs = Math.max(this.#longestMs, downMs)
    while (this.#true < back) {
      this.#true = Math.min(back, this.#true + CALM_TICK_MS)
      this.#writers.write(this.#true)
      await this.#carrier.work()
    }
    if (this.#options.clockJumps)
      this.#skew = this.#chance.is(0.1) ? -2 * HOUR_MS : this.#chance.is(0.05) ? 20 * MINUTE_MS : 0
    await this.#born(strike)
    if (downMs >= DAY_MS) await this.#firstDayBack(downMs)
  }

  #downtime(): number {
    const { downtimes } = this.#options
    if (downtimes) return downtimes[this.#struck.length % downtimes.length] ?? 0
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
        await this.#life.ask({
          do: "open",
          env: environment(this.#folder, this.#port, this.#carrier.url, this.#post.url),
          now: this.#true + this.#skew,
        })
        return
      } catch (error) {
        if (!(error instanceof Died) && !isAskedFor(error)) this.#fatal.push(String(error))
        this.#life.kill()
        await this.#life.gone
      }
    }
    throw new Error(`the bot does not start any more:\n${this.#life?.said()}\n${this.#fatal.join("\n")}`)
  }

  /** Saves a garden file anew, and waits until it has stood still for long enough to be taken. */
  async #touchGarden(): Promise<void> {
    const file = join(this.#folder, "gardens", this.#gardens[0] ?? "")
    writeFileSync(file, `# saved at ${this.#true}\n${readFileSync(file, "utf8").replace(/^#.*\n/, "")}`)
    for (let i = 0; i < 30 && !this.#life?.isGone(); i += 1) await sleep(100)
  }
}
