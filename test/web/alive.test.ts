import { createServer } from "node:http"
import type { AddressInfo } from "node:net"
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest"
import { healthOf } from "../../src/assemble-web.ts"
import { CLOCK_HOLD } from "../../src/bot/house.ts"
import { addMs, MINUTE_MS } from "../../src/values/instant.ts"
import { openAlive } from "../../src/web/alive.ts"
import { aHouse } from "../bot/given-house.ts"
import { aBed, aGarden, at } from "../given.ts"

const NOW = at("2026-05-05 09:00")

let asked = 0
let status = 200
let isMute = false
const watcher = createServer((_request, response) => {
  asked += 1
  if (!isMute) response.writeHead(status, status === 302 ? { location: address() } : {}).end("ok")
})
const address = (): string => `http://127.0.0.1:${(watcher.address() as AddressInfo).port}/`

/** A house that ticked at nine, with a watcher that waits for its signs. */
async function watched(url = address()) {
  const house = aHouse(aGarden({ beds: [aBed({ id: "south" })] }))
  await house.at(NOW)
  const clock = { at: NOW, now: () => clock.at }
  const notes: (string | null)[] = []
  const health = () => healthOf(house.house, clock, {})
  const closing = new AbortController()
  const sign = openAlive({
    url,
    health,
    note: (trouble) => notes.push(trouble),
    closing: closing.signal,
    patienceMs: 2_000,
  })
  return { house: house.house, clock, notes, sign, closing }
}

describe("a sign of life for a watcher outside", () => {
  beforeAll(() => new Promise<void>((resolve) => watcher.listen(0, "127.0.0.1", resolve)))
  afterAll(() => void watcher.close())
  beforeEach(() => {
    asked = 0
    status = 200
    isMute = false
  })

  it("is given where all is well", async () => {
    const { sign, notes } = await watched()
    await sign()
    expect({ asked, notes }).toEqual({ asked: 1, notes: [null] })
  })

  it("stops where no minute's work is done any more (O12)", async () => {
    const { sign, clock } = await watched()
    clock.at = addMs(NOW, 4 * MINUTE_MS)
    await sign()
    expect(asked).toBe(0)
  })

  it("stops where the store is gone, nothing may be sent, or the clock is wrong", async () => {
    const gone = await watched()
    gone.house.store = { ...gone.house.store, probe: () => Promise.reject(new Error("gone")) }
    await gone.sign()
    for (const reason of ["restored from a backup", CLOCK_HOLD]) {
      const held = await watched()
      held.house.hold.reason = reason
      await held.sign()
    }
    expect(asked).toBe(0)
  })

  it("harms nothing where nobody takes it, and health names that", async () => {
    const refused = await watched()
    status = 404
    await refused.sign()
    expect(refused.notes).toEqual(["the watcher answered 404"])
    const away = await watched("http://127.0.0.1:9/")
    await away.sign()
    expect(away.notes).toEqual(["the watcher does not answer"])
  })

  it("tells nobody but the watcher that was set", async () => {
    const { sign, notes } = await watched()
    status = 302
    await sign()
    expect({ asked, notes }).toEqual({ asked: 1, notes: ["the watcher answered 302"] })
  })

  it("is not given again while the watcher is silent on the one before, which is given up in time", async () => {
    const { sign, notes } = await watched()
    isMute = true
    const first = sign()
    await sign()
    await first
    expect({ asked, notes }).toEqual({ asked: 1, notes: ["the watcher does not answer"] })
  })

  it("does not hold up a bot that stops, and is no trouble then", async () => {
    const { sign, notes, closing } = await watched()
    isMute = true
    const given = sign()
    closing.abort()
    await given
    expect(notes).toEqual([])
  })
})
