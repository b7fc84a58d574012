import { openHandbook } from "../../src/handbook/open.ts"
import { USUAL_FAULTS } from "./carrier-faults.ts"
import { openChance } from "./chance.ts"
import { judge, WRONGS } from "./judge.ts"
import { USUAL_POST } from "./post.ts"
import { STEP_NAMES, type StepName, type Strike } from "./steps.ts"
import { playWorld } from "./world.ts"

const seed = Number(process.argv[2] ?? 1)
const only = process.argv[3]?.split(",") as StepName[] | undefined
const chance = openChance(seed)
const strikes = chance
  .shuffled(only ?? STEP_NAMES)
  .map((step): Strike => ({ step, nth: chance.whole(1, 3), action: "kill" }))
const t0 = performance.now()
const outcome = await playWorld({ seed, strikes, carrier: USUAL_FAULTS, post: USUAL_POST, downtime: true, stops: true })
const verdict = judge(outcome, openHandbook(new URL("../../shared/", import.meta.url)))
console.log(
  Math.round(performance.now() - t0),
  "ms",
  outcome.struck.length,
  "struck",
  "not reached",
  outcome.notReached,
  new Date(outcome.ended).toISOString(),
)
console.log(verdict.replies, verdict.texts, verdict.mails, verdict.mailCopies)
for (const name of WRONGS) if (verdict[name].length) console.log(name, verdict[name].length, verdict[name].slice(0, 12))
