import { describe, expect, it } from "vitest"
import { handbook } from "../given.ts"
import { BUGS, RUNS } from "./bugs.ts"
import { campaign } from "./campaign.ts"
import { isClean, judge } from "./judge.ts"
import { STEP_NAMES } from "./steps.ts"
import { playWorld } from "./world.ts"

/** Each named step fifteen times (promises.md 3.1). */
const KILLS = 525

describe("the whole program, killed again and again (promises 1 to 7 and 17)", () => {
  it(`loses nothing, doubles nothing and disturbs nobody in ${KILLS} kills at named steps`, async () => {
    const result = await campaign({ kills: KILLS, seed: 1 }, handbook())
    expect(result.wrongs).toEqual([])
    expect(result.kills).toBeGreaterThanOrEqual(KILLS)
    expect(STEP_NAMES.filter((step) => result.perStep[step] === 0)).toEqual([])
    console.log(`${result.kills} kills, ${result.replies} replies, ${result.texts} texts, ${result.mails} mails`)
  }, 3_600_000)
})

describe("the judge", () => {
  it.each(Object.keys(RUNS) as (keyof typeof RUNS)[])(
    "finds nothing wrong in the run %s of the program as it is",
    async (run) => {
      const verdict = judge(await playWorld(RUNS[run]), handbook())
      expect(isClean(verdict), JSON.stringify(verdict)).toBe(true)
    },
  )

  it.each(Object.entries(BUGS).map(([name, bug]) => ({ name, ...bug })))(
    "catches the planted bug: $is",
    async ({ name, run, caught }) => {
      const verdict = judge(await playWorld({ ...RUNS[run], plant: name }), handbook())
      expect(verdict[caught], JSON.stringify(verdict)).not.toEqual([])
    },
  )
})
