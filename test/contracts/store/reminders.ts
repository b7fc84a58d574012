import { beforeEach, describe, expect, it } from "vitest"
import type { Store } from "../../../src/bot/needs.ts"
import { BLOOM, CUT, GARDEN, LEASE, nudge, plus, SENT, START, sent, told } from "../../store/samples.ts"

/** Reminders: due to a person, by turns, once. */
export function remindersContract(current: () => Store): void {
  describe("reminders", () => {
    let store: Store
    beforeEach(() => {
      store = current()
    })

    const place = (...rows: [id: string, person: string, minutes: number][]) =>
      store.placeReminders(
        GARDEN,
        rows.map(([id, person, minutes]) => ({ id, person, speaksAt: plus(minutes) })),
      )

    it("give a person with all that is due to them, the earliest person first", async () => {
      await place([CUT, "ines", -5], [BLOOM, "ines", -1], ["later", "ines", 5], [CUT, "omar", -9])
      expect(await store.claimPerson(START, LEASE)).toMatchObject({
        garden: GARDEN,
        person: "omar",
        reminders: [CUT],
      })
      expect(await store.claimPerson(START, LEASE)).toMatchObject({ person: "ines", reminders: [CUT, BLOOM] })
      expect(await store.claimPerson(START, LEASE)).toBeNull()
    })

    it("are due at their very instant and not before", async () => {
      await place([CUT, "ines", 0])
      expect(await store.claimPerson(plus(-0.001), LEASE)).toBeNull()
      expect(await store.claimPerson(START, LEASE)).not.toBeNull()
    })

    it("keep gardens apart: one person of two gardens is two turns", async () => {
      await place([CUT, "ines", -5])
      await store.placeReminders("allotment", [{ id: "plot:2026-03-01:sow:1", person: "ines", speaksAt: plus(-4) }])
      expect(await store.claimPerson(START, LEASE)).toMatchObject({ garden: GARDEN, reminders: [CUT] })
      expect(await store.claimPerson(START, LEASE)).toMatchObject({ garden: "allotment" })
    })

    it("are moved by placing them again, and closed by leaving them out; other gardens stay", async () => {
      await store.placeReminders("allotment", [{ id: "sow", person: "zoe", speaksAt: plus(60) }])
      await place([CUT, "ines", -5], [BLOOM, "ines", -5])
      await place([CUT, "ines", 30])
      expect(await store.depth()).toMatchObject({ reminders: 2 })
      expect(await store.claimPerson(START, LEASE)).toBeNull()
      expect(await store.claimPerson(plus(30), LEASE)).toMatchObject({ reminders: [CUT] })
      await place()
      expect(await store.depth()).toMatchObject({ reminders: 1 })
    })

    it("can be placed two hundred times and stay the same set (D4)", async () => {
      for (let i = 0; i < 200; i += 1) await place([CUT, "ines", 5], [CUT, "omar", 5])
      expect(await store.depth()).toMatchObject({ reminders: 2 })
    })

    it("leave a turn alone when they are placed again", async () => {
      await place([CUT, "ines", -5])
      const due = await store.claimPerson(START, LEASE)
      await place([CUT, "ines", -4])
      expect(await store.claimPerson(START, LEASE)).toBeNull()
      expect(due && (await store.settlePerson(due, [], [{ id: CUT, person: "ines", speaksAt: null }], []))).toBe(true)
    })

    it("come back to another worker when the lease is over, and the late one writes nothing", async () => {
      await place([CUT, "ines", -5])
      const late = await store.claimPerson(START, LEASE)
      const next = await store.claimPerson(plus(1), LEASE)
      expect(next).toMatchObject({ person: "ines", reminders: [CUT] })
      if (!late || !next) throw new Error("nobody was due")
      expect(next.lease).not.toBe(late.lease)
      expect(await store.settlePerson(late, [nudge("late")], [], [sent("late")])).toBe(false)
      expect(await store.outgoing("late")).toBeNull()
      expect(await store.entries(GARDEN)).toEqual([])
      expect(await store.settlePerson(next, [nudge("next")], [], [])).toBe(true)
      expect(await store.outgoing("next")).toMatchObject({ state: "waiting" })
    })

    it("settled a hundred times at once count once", async () => {
      await place([CUT, "ines", -5])
      const due = await store.claimPerson(START, LEASE)
      if (!due) throw new Error("nobody was due")
      const results = await Promise.all(
        Array.from({ length: 100 }, (_, i) => store.settlePerson(due, [nudge(`k${i}`)], [], [sent(`text ${i}`)])),
      )
      expect(results.filter(Boolean)).toHaveLength(1)
      expect(await store.entries(GARDEN)).toHaveLength(1)
      expect(await store.depth()).toMatchObject({ outgoing: 1 })
    })

    it("move or close as the settlement says; one that was closed meanwhile stays closed", async () => {
      await place([CUT, "ines", -5], [BLOOM, "ines", -5])
      const due = await store.claimPerson(START, LEASE)
      if (!due) throw new Error("nobody was due")
      await place([CUT, "ines", -5])
      await store.settlePerson(
        due,
        [],
        [
          { id: CUT, person: "ines", speaksAt: plus(60) },
          { id: BLOOM, person: "ines", speaksAt: plus(60) },
        ],
        [],
      )
      expect(await store.claimPerson(plus(59), LEASE)).toBeNull()
      expect(await store.claimPerson(plus(60), LEASE)).toMatchObject({ reminders: [CUT] })
    })

    it("wait while a nudge to their person is on its way, even when they are placed again meanwhile (D3)", async () => {
      await place([CUT, "ines", -5], [CUT, "omar", 5])
      const due = await store.claimPerson(START, LEASE)
      if (!due) throw new Error("nobody was due")
      const moved = [{ id: CUT, person: "ines", speaksAt: plus(600) }]
      await store.settlePerson(due, [nudge("k1", { told: [told(CUT)] })], moved, [])
      await place([CUT, "ines", -5], [CUT, "omar", 5], [BLOOM, "ines", -5])
      expect(await store.claimPerson(START, LEASE)).toBeNull()
      const message = await store.claimOutgoing(START, LEASE)
      expect(await store.claimPerson(plus(9), LEASE)).toMatchObject({ person: "omar" })
      expect(await store.claimPerson(plus(9), LEASE)).toBeNull()
      await store.settleOutgoing("k1", message?.attempts ?? 0, SENT, [sent("cut")])
      // What was said is not due again before the plan says so; the rest is.
      expect(await store.claimPerson(plus(10), LEASE)).toMatchObject({ person: "ines", reminders: [BLOOM] })
    })

    it("do not wait for a message that is no nudge, nor for another garden's", async () => {
      await place([CUT, "ines", -5])
      await store.queue([
        nudge("k1", { kind: "answer" }),
        nudge("k2", { kind: "digest" }),
        nudge("k3", { garden: "allotment" }),
      ])
      expect(await store.claimPerson(START, LEASE)).toMatchObject({ person: "ines", reminders: [CUT] })
    })

    it("are due again where their nudge failed, and at a later time where one was set meanwhile", async () => {
      await place([CUT, "ines", -5])
      await store.queue([nudge("k1")])
      await store.claimOutgoing(START, LEASE)
      expect(await store.claimPerson(START, LEASE)).toBeNull()
      await store.settleOutgoing("k1", 1, { is: "failed", code: "30006", text: "landline" }, [])
      const due = await store.claimPerson(START, LEASE)
      if (!due) throw new Error("nobody was due")
      expect(due.reminders).toEqual([CUT])
      await store.settlePerson(due, [nudge("k2")], [], [])
      await place([CUT, "ines", 600])
      await store.claimOutgoing(START, LEASE)
      await store.settleOutgoing("k2", 1, SENT, [])
      expect(await store.claimPerson(plus(599), LEASE)).toBeNull()
      expect(await store.claimPerson(plus(600), LEASE)).toMatchObject({ reminders: [CUT] })
    })
  })
}
