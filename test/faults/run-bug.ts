import { openHandbook } from "../../src/handbook/open.ts"
import { BUGS, RUNS } from "./bugs.ts"
import { judge, WRONGS } from "./judge.ts"
import { playWorld } from "./world.ts"

const handbook = openHandbook(new URL("../../shared/", import.meta.url))
const names = process.argv.slice(2)
for (const name of names) {
  const bug = BUGS[name]
  const t0 = performance.now()
  const run = bug ? bug.run : (name as keyof typeof RUNS)
  try {
    const outcome = await playWorld({ ...RUNS[run], plant: bug ? name : null })
    const verdict = judge(outcome, handbook)
    console.log(
      name,
      run,
      Math.round(performance.now() - t0),
      "ms; struck",
      outcome.struck.length,
      outcome.notReached.join(),
      "r",
      verdict.replies,
      "t",
      verdict.texts,
      "m",
      verdict.mails,
      bug ? ((verdict[bug.caught] as string[]).length > 0 ? "CAUGHT" : "MISSED") : "",
    )
    for (const n of WRONGS)
      if (verdict[n].length)
        console.log(
          "   ",
          n,
          verdict[n].length,
          verdict[n].slice(0, 3).map((x) => x.slice(0, 200)),
        )
  } catch (e) {
    console.log(name, "ERR", String(e).slice(0, 800))
  }
}
process.exit(0)
