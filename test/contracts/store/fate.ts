import { beforeEach, describe, expect, it } from "vitest"
import type { Store } from "../../../src/bot/needs.ts"
import { LEASE, nudge, SENT, START } from "../../store/samples.ts"

/** The carrier's word on a message: it only moves forward. */
export function fateContract(current: () => Store): void {
  describe("the carrier's word on a message", () => {
    let store: Store
    beforeEach(() => {
      store = current()
    })

    /** All orders of some words. */
    const orders = (words: string[]): string[][] =>
      words.length <= 1
        ? [words]
        : words.flatMap((word, i) => orders(words.toSpliced(i, 1)).map((rest) => [word, ...rest]))

    it.each(["delivered", "undelivered", "failed"])("ends at %s in every order of the callbacks (D11)", async (end) => {
      let n = 0
      for (const order of orders(["queued", "sending", "sent", end])) {
        n += 1
        await store.queue([nudge(`k${n}`)])
        for (const fate of order) await store.recordFate(`k${n}`, fate, null)
        expect(await store.outgoing(`k${n}`), order.join()).toMatchObject({ fate: end })
      }
      expect(n).toBe(24)
    })

    it("moves one step for each new word in order, and for none twice (D13)", async () => {
      await store.queue([nudge("k1")])
      const moved: boolean[] = []
      for (const fate of ["queued", "queued", "accepted", "sent", "sending", "delivered", "delivered", "failed"])
        moved.push(await store.recordFate("k1", fate, null))
      expect(moved).toEqual([true, false, true, true, false, true, false, false])
    })

    it("is found by our own key, also before the try has come back (D12), and survives its outcome", async () => {
      await store.queue([nudge("k1")])
      await store.claimOutgoing(START, LEASE)
      expect(await store.recordFate("k1", "delivered", null)).toBe(true)
      await store.settleOutgoing("k1", 1, SENT, [])
      expect(await store.outgoing("k1")).toMatchObject({ state: "sent", fate: "delivered" })
      expect(await store.recordFate("nobody", "sent", null)).toBe(false)
    })

    it("keeps the code of a failure, and passes over a word that no carrier says", async () => {
      await store.queue([nudge("k1")])
      expect(await store.recordFate("k1", "teleported", null)).toBe(false)
      expect(await store.recordFate("k1", "undelivered", "30003")).toBe(true)
      expect(await store.outgoing("k1")).toMatchObject({ fate: "undelivered", lastError: "30003" })
    })
  })
}
