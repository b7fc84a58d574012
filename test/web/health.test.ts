import { describe, expect, it } from "vitest"
import { webNeeds } from "../../src/assemble-web.ts"
import { openDesk } from "../../src/bot/desk.ts"
import { addMs, instantText, MINUTE_MS } from "../../src/values/instant.ts"
import { aHouse } from "../bot/given-house.ts"
import { aBed, aGarden, aPerson, aSowing, at } from "../given.ts"

const NOW = at("2026-05-05 09:00")

/** A house that ticked at nine, and what `/health` says of it so much later. */
async function ticked() {
  const house = aHouse(
    aGarden({ people: [aPerson()], beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })] }),
  )
  await house.at(NOW)
  const clock = { at: NOW, now: () => clock.at }
  const desk = openDesk(house.house, clock)
  const wire = { more: undefined, trouble: () => ({}) }
  const place = { folder: "unused", secret: "a-secret-of-some-length", host: "127.0.0.1", port: 0, publicUrl: null }
  const needs = webNeeds({ house: house.house, desk, clock, ...place, wire })
  return {
    house,
    health: (ms = 0) => {
      clock.at = addMs(NOW, ms)
      return needs.health()
    },
  }
}

describe("health", () => {
  it("is well after a tick, and tells when that was and how much waits (D5)", async () => {
    const { health } = await ticked()
    expect(await health(MINUTE_MS)).toMatchObject({
      ok: true,
      lastTick: instantText(NOW),
      store: "ok",
      hold: null,
      queue: { outgoing: 0 },
    })
  })

  it("is not well once no tick has come for minutes (O12)", async () => {
    const { health } = await ticked()
    expect((await health(3 * MINUTE_MS)).ok).toBe(true)
    expect((await health(4 * MINUTE_MS)).ok).toBe(false)
  })

  it("asks the store itself, and is not well where that fails (S17)", async () => {
    const { house, health } = await ticked()
    house.house.store = { ...house.house.store, probe: () => Promise.reject(new Error("the disk is gone")) }
    expect(await health()).toMatchObject({ ok: false, store: "the disk is gone" })
  })

  it("is not well while nothing may be sent, and says why (S10, T17)", async () => {
    const { house, health } = await ticked()
    house.house.hold.reason = "restored from a backup"
    expect(await health()).toMatchObject({ ok: false, hold: "restored from a backup" })
  })

  it("names what each channel last complained of, and is well all the same", async () => {
    const { house, health } = await ticked()
    house.house.memory.errors.set("mail", "451")
    expect(await health()).toMatchObject({ ok: true, errors: { mail: "451" } })
  })
})
