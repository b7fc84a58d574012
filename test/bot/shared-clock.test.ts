import { describe, expect, it } from "vitest"
import { sharedClock } from "../../src/bot/shared-clock.ts"
import { addMs, instant, instantOf } from "../../src/values/instant.ts"

/** A server whose clock goes by the machine's beat from a moment on, and what it remembers. */
function aServer(from = instant("2026-05-09T12:00:00Z")) {
  const kept = new Map<string, string>()
  const began = performance.now()
  const server = {
    ahead: 0,
    time: async () => instantOf(from + server.ahead + performance.now() - began),
    recall: async (name: string) => kept.get(name) ?? null,
    remember: async (name: string, value: string) => void kept.set(name, value),
  }
  return server
}

const standing = (at: string) => ({ now: () => instant(at) })

describe("the clock that workers share", () => {
  it("is the server's, however wrong their own are (T21)", async () => {
    const server = aServer()
    const fast = await sharedClock(standing("2026-05-09T12:01:30Z"), server, null)
    const slow = await sharedClock(standing("2026-05-09T11:58:30Z"), server, null)
    expect(Math.abs(fast.now() - slow.now())).toBeLessThan(1000)
    expect(Math.abs(fast.now() - (await server.time()))).toBeLessThan(1000)
  })

  it("follows a server's clock that was set", async () => {
    const server = aServer()
    const clock = await sharedClock(standing("2026-05-09T12:00:00Z"), server, null)
    server.ahead = 3_600_000
    expect(clock.now() - (await server.time())).toBeLessThan(-3_500_000)
    await clock.again()
    expect(Math.abs(clock.now() - (await server.time()))).toBeLessThan(1000)
  })

  it("of a trial goes on where the first of its workers began it", async () => {
    const server = aServer(instant("2030-01-01T00:00:00Z"))
    const first = await sharedClock(standing("2026-05-09T12:00:00Z"), server, 60)
    server.ahead = 10_000
    await first.again()
    const second = await sharedClock(standing("2026-05-09T12:00:00Z"), server, 60)
    const expected = addMs(instant("2026-05-09T12:00:00Z"), 600_000)
    for (const clock of [first, second]) expect(Math.abs(clock.now() - expected)).toBeLessThan(60_000)
  })
})
