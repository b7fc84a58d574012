import { beforeEach, describe, expect, it } from "vitest"
import type { Store } from "../../../src/bot/needs.ts"
import { GARDEN, incoming, LEASE, nudge, plus, reply, START } from "../../store/samples.ts"

/** Messages from people: kept before they are understood, applied once. */
export function inboxContract(current: () => Store): void {
  describe("messages from people", () => {
    let store: Store
    beforeEach(() => {
      store = current()
    })

    it("are kept once, however often they come (D8, D9)", async () => {
      const answers = await Promise.all(Array.from({ length: 50 }, () => store.keepIncoming(incoming("SM7"))))
      expect(answers.filter((answer) => answer === "new")).toHaveLength(1)
      expect(await store.depth()).toMatchObject({ incoming: 1 })
    })

    it("come back as they came, oldest first, one under a lease at a time, with the attempt counted", async () => {
      const first = {
        ...incoming("SM1", "cut \u0000 it"),
        media: [{ url: "https://example.org/1", type: "image/jpeg" }],
        extra: { subject: "Re" },
      }
      await store.keepIncoming(first)
      await store.keepIncoming({ ...incoming("SM2"), from: "+17175550143" })
      expect(await store.claimIncoming(START, LEASE)).toEqual({ ...first, attempts: 1 })
      expect(await store.claimIncoming(START, LEASE)).toMatchObject({ id: "SM2", attempts: 1 })
      expect(await store.claimIncoming(START, LEASE)).toBeNull()
    })

    it("come again when the lease is over", async () => {
      await store.keepIncoming(incoming("SM1"))
      await store.claimIncoming(START, LEASE)
      expect(await store.claimIncoming(plus(0.5), LEASE)).toBeNull()
      expect(await store.claimIncoming(plus(1), LEASE)).toMatchObject({ id: "SM1", attempts: 2 })
    })

    it("are applied once, with entries and answers in the same transaction", async () => {
      await store.keepIncoming(incoming("SM1"))
      await store.claimIncoming(START, LEASE)
      const answer = nudge("answer:SM1", { kind: "answer", told: [], answers: 1 })
      const entries = await store.settleIncoming("SM1", [reply("done 1")], [answer])
      expect(entries.map((entry) => entry.seq)).toEqual([1])
      expect(await store.claimIncoming(plus(10), LEASE)).toBeNull()
      expect(await store.settleIncoming("SM1", [reply("done 1")], [answer])).toEqual([])
      expect(await store.entries(GARDEN)).toHaveLength(1)
      expect(await store.depth()).toEqual({ outgoing: 1, incoming: 0, reminders: 0 })
      expect(await store.keepIncoming(incoming("SM1"))).toBe("repeat")
    })

    it("leave no trace of a settlement that fails: the words wait for the next try", async () => {
      await store.keepIncoming(incoming("SM1"))
      await store.claimIncoming(START, LEASE)
      const broken = { ...reply("x"), via: "carrier pigeon" } as never
      await expect(store.settleIncoming("SM1", [reply("a"), broken], [nudge("k")])).rejects.toThrow(
        /cannot be logged: via/,
      )
      expect(await store.outgoing("k")).toBeNull()
      expect(await store.entries(GARDEN)).toEqual([])
      expect(await store.claimIncoming(plus(2), LEASE)).toMatchObject({ id: "SM1" })
    })

    it("cannot be settled where they were never kept", async () => {
      await expect(store.settleIncoming("SM9", [reply("a")], [])).rejects.toThrow(/never kept/)
      expect(await store.entries(GARDEN)).toEqual([])
    })

    it("settled a hundred times at once count once", async () => {
      await store.keepIncoming(incoming("SM1"))
      const results = await Promise.all(
        Array.from({ length: 100 }, () => store.settleIncoming("SM1", [reply("done 1")], [nudge("answer:SM1")])),
      )
      expect(results.filter((entries) => entries.length > 0)).toHaveLength(1)
      expect(await store.entries(GARDEN)).toHaveLength(1)
    })
  })
}
