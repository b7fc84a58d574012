import { describe, expect, it } from "vitest"
import { fuzzer } from "./twilio-fuzz.ts"
import { webhooks } from "./twilio-given.ts"

describe("two thousand webhooks of any kind", () => {
  it("are all answered, none with an error of ours; only what the carrier signed changes anything", async () => {
    const { app, errors, inbox } = webhooks()
    const next = fuzzer(1)
    const statuses = new Map<number, number>()
    for (let i = 0; i < 2000; i += 1) {
      const { path, init } = next()
      const { status } = await app.request(path, init)
      statuses.set(status, (statuses.get(status) ?? 0) + 1)
    }
    expect([...statuses.keys()].sort()).toEqual([200, 403, 413, 415])
    expect(statuses.get(200)).toBeGreaterThan(200)
    expect(statuses.get(403)).toBeGreaterThan(200)
    expect(errors).toEqual([])
    expect(inbox.length).toBeLessThanOrEqual(50)
    expect(inbox.length).toBeGreaterThan(10)
  })
})
