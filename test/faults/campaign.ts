import { availableParallelism } from "node:os"
import type { Handbook } from "../../src/handbook/handbook.ts"
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../src/values/instant.ts"
import { USUAL_FAULTS } from "./carrier-faults.ts"
import { openChance } from "./chance.ts"
import { judge, type Verdict, WRONGS } from "./judge.ts"
import { USUAL_POST } from "./post.ts"
import type { Outage, Outcome, WorldOptions } from "./scene.ts"
import { STEP_NAMES, STEPS, type StepName, type Strike } from "./steps.ts"
import { playWorld } from "./world.ts"

/** What all worlds of a campaign came to. */
export type Result = {
  worlds: number
  kills: number
  throws: number
  days: number
  perStep: Record<StepName, number>
  replies: number
  texts: number
  nudges: number
  mails: number
  mailCopies: number
  stops: number
  returns: number
  outages: number
  /** Every wrong with the world it was found in. */
  wrongs: { seed: number; name: (typeof WRONGS)[number]; found: string[] }[]
}

/** Steps that are passed so seldom that the first time has to do. */
const RARE = new Set<StepName>([
  "lapsed in tx",
  "due known",
  "composed",
  "outbox in tx",
  "outbox committed",
  "mail half written",
  "mail taken",
  "digest rendered",
  "digest in tx",
  "digest committed",
  "digest marked",
  "reload parsed",
  "reload swapped",
  "opening in tx",
])

const PAIRS = [
  ["acre.yaml", "marsh.yaml"],
  ["marsh.yaml", "hill.yaml"],
  ["hill.yaml", "acre.yaml"],
] as const

const OUTAGES: readonly (readonly Outage[])[] = [
  [],
  [
    { who: "carrier", fromDay: 4, ms: MINUTE_MS },
    { who: "post", fromDay: 9, ms: 3 * HOUR_MS },
  ],
  [
    { who: "carrier", fromDay: 6, ms: 3 * HOUR_MS },
    { who: "post", fromDay: 11, ms: MINUTE_MS },
  ],
  [{ who: "carrier", fromDay: 8, ms: 3 * DAY_MS }],
  [{ who: "post", fromDay: 3, ms: 3 * DAY_MS }],
]

/** The world of a number: the same every time. One strike at each step, in an order of its own. */
export function worldOf(number: number, steps: readonly StepName[] = STEP_NAMES): WorldOptions {
  const chance = openChance(number * 7919)
  const shuffled = chance.shuffled(steps.filter((step) => step !== "lapsed in tx"))
  const order = steps.includes("lapsed in tx") ? [...shuffled, "lapsed in tx" as const] : shuffled
  return {
    seed: number,
    gardens: PAIRS[number % PAIRS.length] ?? [],
    strikes: order.map((step): Strike => {
      const throws = STEPS[step].by === "child" && chance.is(0.1)
      return { step, nth: RARE.has(step) ? 1 : chance.whole(1, 3), action: throws ? "throw" : "kill" }
    }),
    carrier: { ...USUAL_FAULTS, blocks: number % 4 === 0, stopSilently: number % 5 === 4 ? 0.01 : 0 },
    post: USUAL_POST,
    downtime: number % 6 !== 5,
    stops: number % 2 === 0,
    clockJumps: number % 3 === 1,
    outages: OUTAGES[number % OUTAGES.length] ?? [],
  }
}

/**
 * Plays worlds, some at once, until so many times the program was killed. They are judged when none is played any more: the
 * judge reckons for seconds, in which a stand-in would answer nobody.
 */
export async function campaign(
  { kills, seed, parallel = availableParallelism() }: { kills: number; seed: number; parallel?: number },
  handbook: Handbook,
  onWorld: (outcome: Outcome, verdict: Verdict | null) => void = () => {},
): Promise<Result> {
  const result = empty()
  const played: { options: WorldOptions; outcome: Outcome }[] = []
  let next = seed
  const lane = async () => {
    while (result.kills < kills) {
      const options = worldOf(next)
      next += 1
      const outcome = await playWorld(options)
      count(result, options, outcome)
      played.push({ options, outcome })
      onWorld(outcome, null)
    }
  }
  await Promise.all(Array.from({ length: parallel }, lane))
  for (const { outcome } of played) {
    const verdict = judge(outcome, handbook)
    add(result, outcome, verdict)
    onWorld(outcome, verdict)
  }
  return result
}

function empty(): Result {
  return {
    worlds: 0,
    kills: 0,
    throws: 0,
    days: 0,
    perStep: Object.fromEntries(STEP_NAMES.map((step) => [step, 0])) as Record<StepName, number>,
    replies: 0,
    texts: 0,
    nudges: 0,
    mails: 0,
    mailCopies: 0,
    stops: 0,
    returns: 0,
    outages: 0,
    wrongs: [],
  }
}

function count(result: Result, options: WorldOptions, outcome: Outcome): void {
  result.worlds += 1
  result.days += (outcome.ended - outcome.began) / DAY_MS
  for (const strike of outcome.struck) {
    result.perStep[strike.step] += 1
    if (strike.action === "kill") result.kills += 1
    else result.throws += 1
  }
  result.nudges += outcome.carrier.book.filter((text) => text.key?.startsWith("nudge:")).length
  result.stops += outcome.stopped.length
  result.returns += outcome.returns.length
  result.outages += options.outages?.length ?? 0
}

function add(result: Result, outcome: Outcome, verdict: Verdict): void {
  result.replies += verdict.replies
  result.texts += verdict.texts
  result.mails += verdict.mails
  result.mailCopies += verdict.mailCopies
  for (const name of WRONGS)
    if (verdict[name].length > 0) result.wrongs.push({ seed: outcome.seed, name, found: verdict[name] })
}

/** The fewest strikes of a world with which it still goes wrong: halves are left out for as long as it does. */
export async function fewest(options: WorldOptions, handbook: Handbook): Promise<readonly Strike[]> {
  let strikes = options.strikes
  const isWrong = async (fewer: readonly Strike[]) => {
    const verdict = judge(await playWorld({ ...options, strikes: fewer }), handbook)
    return WRONGS.some((name) => verdict[name].length > 0)
  }
  for (let size = Math.ceil(strikes.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2)) {
    for (let at = 0; at < strikes.length; ) {
      const without = [...strikes.slice(0, at), ...strikes.slice(at + size)]
      if (await isWrong(without)) strikes = without
      else at += size
    }
  }
  return strikes
}
