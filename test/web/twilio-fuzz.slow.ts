import { setFlagsFromString } from "node:v8"
import { runInNewContext } from "node:vm"
import { describe, expect, it } from "vitest"
import { fuzzer } from "./twilio-fuzz.ts"
import { webhooks } from "./twilio-given.ts"

setFlagsFromString("--expose-gc")
const collect = runInNewContext("gc") as () => void

/** Heap in use after everything that can be was given back; streams end in turns of their own, so they get some. */
async function heap(): Promise<number> {
  for (let i = 0; i < 3; i += 1) {
    await new Promise((resolve) => setTimeout(resolve, 50))
    collect()
  }
  return process.memoryUsage().heapUsed
}

describe("a hundred thousand webhooks of any kind", () => {
  it("give no error of ours, and no memory is kept of them", async () => {
    const { app, errors, refusals, visits } = webhooks()
    const next = fuzzer(20_260_513)
    const worst = new Set<number>()
    const run = async (count: number) => {
      for (let i = 0; i < count; i += 1) {
        const { path, init } = next()
        worst.add((await app.request(path, init)).status)
        // What the test itself writes down is not the program's memory.
        refusals.length = 0
        visits.length = 0
        // Requests come from outside, in turns of their own: what ends with a turn may end.
        if (i % 50 === 0) await new Promise((resolve) => setImmediate(resolve))
      }
    }
    await run(20_000)
    const early = await heap()
    await run(80_000)
    expect([...worst].sort()).toEqual([200, 403, 413, 415])
    expect(errors).toEqual([])
    expect((await heap()) / early).toBeLessThan(1.1)
  })
})
