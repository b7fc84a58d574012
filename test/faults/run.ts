import { parseArgs } from "node:util"
import { openHandbook } from "../../src/handbook/open.ts"
import { campaign, fewest, type Result, worldOf } from "./campaign.ts"
import { WRONGS } from "./judge.ts"

const USAGE = `usage: node test/faults/run.ts [--kills N] [--seed S] [--parallel P]
       node test/faults/run.ts --shrink S

Plays springs of three gardens through the whole program, which is killed again and again at named steps of its work, with a
carrier and a mail server that misbehave, and judges by their books, the log and the garden files. Prints what was found.
  --kills     how often the program is to die (525)
  --seed      the number of the first world (1); the same number is the same world
  --parallel  worlds at once (one for each processor)
  --shrink    the fewest kills with which that one world still goes wrong`

const { values } = parseArgs({
  options: {
    kills: { type: "string", default: "525" },
    seed: { type: "string", default: "1" },
    parallel: { type: "string" },
    shrink: { type: "string" },
    help: { type: "boolean", default: false },
  },
})
const handbook = openHandbook(new URL("../../shared/", import.meta.url))

if (values.help) console.log(USAGE)
else if (values.shrink !== undefined) {
  const strikes = await fewest(worldOf(Number(values.shrink)), handbook)
  console.log(strikes.map(({ step, nth, action }) => `${action} at "${step}", time ${nth}`).join("\n"))
} else {
  const began = performance.now()
  const result = await campaign(
    {
      kills: Number(values.kills),
      seed: Number(values.seed),
      ...(values.parallel ? { parallel: Number(values.parallel) } : {}),
    },
    handbook,
    (outcome, verdict) => {
      if (verdict === null) return console.error(`world ${outcome.seed}: ${outcome.struck.length} strikes, played`)
      const wrong = WRONGS.filter((name) => verdict[name].length > 0)
      const missed = outcome.notReached.length > 0 ? `; not reached: ${outcome.notReached.join(", ")}` : ""
      console.error(
        `world ${outcome.seed}: ${outcome.struck.length} strikes, ${verdict.replies} replies, ${verdict.texts} texts: ${
          wrong.length === 0 ? "clean" : wrong.join(", ")
        }${missed}`,
      )
      for (const name of wrong) console.error(`  ${name}: ${verdict[name].slice(0, 3).join("; ")}`)
    },
  )
  console.log(table(result, (performance.now() - began) / 1000))
  for (const { seed, name, found } of result.wrongs)
    console.log(`world ${seed}, ${name}:\n  ${found.slice(0, 5).join("\n  ")}`)
  process.exitCode = result.wrongs.length === 0 ? 0 : 1
}

/** What the promises came to, as the README shows it. */
function table(result: Result, seconds: number): string {
  const of = (...names: (typeof WRONGS)[number][]) =>
    String(
      result.wrongs.filter((wrong) => names.includes(wrong.name)).reduce((sum, { found }) => sum + found.length, 0),
    )
  const rows = [
    [
      "the program was killed",
      `${result.kills} times, at ${Object.values(result.perStep).filter(Boolean).length} steps`,
    ],
    ["an error was thrown into it", `${result.throws} times`],
    ["worlds, days played", `${result.worlds}, ${Math.round(result.days)}`],
    ["replies sent; lost; counted twice", `${result.replies}; ${of("repliesLost")}; ${of("repliesDoubled")}`],
    ["texts taken by the carrier; lost; doubled", `${result.texts}; ${of("textsLost")}; ${of("textsDoubled")}`],
    [
      "mails taken; under two ids; second copies under one id",
      `${result.mails}; ${of("mailsDoubled")}; ${result.mailCopies}`,
    ],
    ["stops; texts after them", `${result.stops}; ${of("afterStop")}`],
    [
      "nudges by text; outside hours; over the number of the day",
      `${result.nudges}; ${of("outsideHours")}; ${of("overCap")}`,
    ],
    ["long absences; more than one text on the return", `${result.returns}; ${of("floods")}`],
    ["texts to numbers that may not be texted", of("toStrangers")],
    ["holes in a log; plans that do not follow from it", `${of("logBroken")}; ${of("plansUnequal")}`],
    ["private words in the operator's log", of("leaked")],
    ["crashes that nobody asked for", of("crashed")],
  ]
  const steps = Object.entries(result.perStep).map(([step, count]) => `  ${step.padEnd(24)} ${count}`)
  return [
    ...rows.map(([what, found]) => `${what?.padEnd(58)} ${found}`),
    `${Math.round(seconds)} s`,
    "",
    ...steps,
  ].join("\n")
}
