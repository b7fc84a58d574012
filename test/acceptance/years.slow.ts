import { spawnSync } from "node:child_process"
import { describe, expect, it } from "vitest"

const BENCH = new URL("../bench/years.ts", import.meta.url).pathname
/** Memory in use after a collection may grow by so much from the end of the first year to the end of the third. */
const MOST_PERCENT = 10

describe("a process that runs for three years", () => {
  it("holds no more and more, whatever is planned, sent, answered and looked at", () => {
    const { stdout, status } = spawnSync(process.execPath, ["--expose-gc", BENCH], {
      encoding: "utf8",
      env: { ...process.env, REQUESTS: process.env.REQUESTS ?? "1000" },
    })
    expect(status).toBe(0)
    console.log(stdout)
    const growth = /growth from year 1 to year 3\s+(-?[\d.]+) %/.exec(stdout)?.[1]
    expect(growth).toBeDefined()
    expect(Number(growth)).toBeLessThanOrEqual(MOST_PERCENT)
    expect(stdout.match(/^ {2}year \d: .* [1-9]\d+ messages/gm)).toHaveLength(3)
  }, 3_600_000)
})
