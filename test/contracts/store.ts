import fc from "fast-check"
import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { LogMovedOn, type Store } from "../../src/bot/needs.ts"
import { BLOOM, GARDEN, incoming, LEASE, nudge, plus, reply, SENT, START, sent } from "../store/samples.ts"
import { fateContract } from "./store/fate.ts"
import { gardensContract } from "./store/gardens.ts"
import { inboxContract } from "./store/inbox.ts"
import { keptContract } from "./store/kept.ts"
import { outboxContract } from "./store/outbox.ts"
import { remindersContract } from "./store/reminders.ts"

/** An empty store to test, and what its kind can do. */
export type StoreUnderTest = {
  store: Store
  /** Closes the store and opens the same data again, as after a restart. */
  restart?: () => Promise<Store>
  /** A second store on the same data, as another worker has it. */
  second?: () => Promise<Store>
  /** Closes and removes everything. */
  remove: () => Promise<void>
}

/**
 * What every store must do, run on each implementation of `Store`. `can.restart`: its data outlive the process;
 * `can.share`: several workers may have it open at once.
 */
export function storeContract(
  name: string,
  can: { restart: boolean; share: boolean },
  open: () => Promise<StoreUnderTest>,
): void {
  describe(`the store ${name}`, () => {
    let under: StoreUnderTest
    let store: Store
    beforeEach(async () => {
      under = await open()
      store = under.store
    })
    afterEach(() => under.remove())

    describe("the log", () => {
      it("numbers entries from 1 without holes, each garden by itself", async () => {
        const first = await store.append([reply("one"), reply("a", "allotment"), reply("two")])
        await store.append([reply("three"), reply("b", "allotment")])
        expect(first.map((entry) => [entry.garden, entry.seq])).toEqual([
          [GARDEN, 1],
          ["allotment", 1],
          [GARDEN, 2],
        ])
        expect((await store.entries(GARDEN)).map((entry) => entry.seq)).toEqual([1, 2, 3])
        expect((await store.entries("allotment")).map((entry) => entry.seq)).toEqual([1, 2])
        expect(await store.entries("nowhere")).toEqual([])
      })

      it("gives back what was appended, and only what comes after a number", async () => {
        const kept = await store.append([reply("one"), sent("two"), reply("three")])
        expect(await store.entries(GARDEN)).toEqual(kept)
        expect(await store.entries(GARDEN, 1)).toEqual(kept.slice(1))
        expect(await store.entries(GARDEN, 3)).toEqual([])
      })

      it("keeps the words to the letter: controls, line ends, other scripts, halves of a pair", async () => {
        const anyText = fc
          .array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 40 })
          .map((units) => String.fromCharCode(...units))
        await fc.assert(
          fc.asyncProperty(anyText, async (text) => {
            const [kept] = await store.append([reply(text)])
            const read = await store.entries(GARDEN, (kept?.seq ?? 0) - 1)
            expect(read.map((entry) => entry.kind === "reply" && entry.text)).toEqual([text])
          }),
          { numRuns: 200, seed: 5 },
        )
      })

      it("takes all entries of a call or none: one that could not be read again stops the rest", async () => {
        const unreadable = { ...reply("x"), acts: [{ act: "measure", what: "height_cm", value: Number.NaN }] } as never
        await expect(store.append([reply("one"), unreadable])).rejects.toThrow(/cannot be logged: acts\[0\]/)
        expect(await store.entries(GARDEN)).toEqual([])
        expect((await store.append([reply("two")])).map((entry) => entry.seq)).toEqual([1])
      })

      it("takes nothing from a caller who has not seen its last entry", async () => {
        const at = (seq: number) => ({ garden: GARDEN, seq })
        await store.append([reply("one")], at(0))
        await expect(store.append([reply("two")], at(0))).rejects.toThrow(LogMovedOn)
        await store.keepIncoming(incoming("SM1"))
        await expect(store.settleIncoming("SM1", [reply("two")], [nudge("k")], at(0))).rejects.toThrow(LogMovedOn)
        await store.placeReminders(GARDEN, [{ id: BLOOM, person: "ines", speaksAt: START }])
        const due = await store.claimPerson(START, LEASE)
        if (!due) throw new Error("nobody was due")
        await expect(store.settlePerson(due, [nudge("k")], [], [], at(0))).rejects.toThrow(LogMovedOn)
        expect(await store.entries(GARDEN)).toHaveLength(1)
        expect(await store.depth()).toEqual({ outgoing: 0, incoming: 1, reminders: 1 })
        expect(await store.settlePerson(due, [], [], [sent("two")], at(1))).toBe(true)
        expect(
          await store.settleIncoming("SM1", [reply("a", "allotment"), reply("three")], [nudge("k")], at(2)),
        ).toHaveLength(2)
      })

      it("numbers rightly when a hundred append at once", async () => {
        await Promise.all(Array.from({ length: 100 }, (_, i) => store.append([reply(`text ${i}`)])))
        const texts = (await store.entries(GARDEN)).map((entry) => entry.kind === "reply" && entry.text)
        expect(new Set(texts).size).toBe(100)
        expect((await store.entries(GARDEN)).map((entry) => entry.seq)).toEqual(
          Array.from({ length: 100 }, (_, i) => i + 1),
        )
      })
    })

    inboxContract(() => store)
    remindersContract(() => store)
    outboxContract(() => store)
    gardensContract(() => store)
    keptContract(() => store)
    fateContract(() => store)

    describe("small things by name", () => {
      it("are recalled as remembered last, null where nothing was", async () => {
        expect(await store.recall("tick")).toBeNull()
        await store.remember("tick", "1")
        await store.remember("tick", "2 \u{1F33E}")
        expect(await store.recall("tick")).toBe("2 \u{1F33E}")
      })

      it("are counted, by several at once too", async () => {
        expect(await store.tally("texts", 0)).toBe(0)
        const counts = await Promise.all(Array.from({ length: 20 }, () => store.tally("texts", 2)))
        expect(counts.sort((a, b) => a - b)).toEqual(Array.from({ length: 20 }, (_, i) => 2 * (i + 1)))
        expect(await store.tally("texts", 0)).toBe(40)
      })

      it("leave depth as it is; a probe of a sound store passes", async () => {
        await store.probe()
        await store.probe()
        expect(await store.depth()).toEqual({ outgoing: 0, incoming: 0, reminders: 0 })
      })

      it("are gone with a closed store: every verb refuses", async () => {
        await store.close()
        await expect(store.recall("tick")).rejects.toThrow(/closed/)
        await expect(store.append([reply("x")])).rejects.toThrow(/closed/)
        await expect(store.probe()).rejects.toThrow(/closed/)
        await store.close()
      })
    })

    if (can.restart)
      describe("after a restart", () => {
        it("has everything that was acknowledged, and takes up what a gone process held (D7)", async () => {
          const kept = await store.append([reply("one"), sent("two")])
          await store.keepIncoming(incoming("SM1"))
          await store.claimIncoming(START, LEASE)
          await store.placeReminders(GARDEN, [{ id: BLOOM, person: "omar", speaksAt: plus(-5) }])
          await store.claimPerson(START, LEASE)
          await store.queue([nudge("k1"), nudge("k2"), nudge("k3", { notBefore: plus(1) })])
          await store.claimOutgoing(START, LEASE)
          await store.claimOutgoing(START, LEASE)
          await store.settleOutgoing(
            "k2",
            1,
            { is: "unknown", dueAt: plus(15), code: "timeout", text: "no answer" },
            [],
          )
          await store.remember("tick", "7")
          store = await promised(under.restart)()
          expect(await store.entries(GARDEN)).toEqual(kept)
          expect(await store.recall("tick")).toBe("7")
          expect(await store.depth()).toEqual({ outgoing: 3, incoming: 1, reminders: 1 })
          expect(await store.claimIncoming(START, LEASE)).toMatchObject({ id: "SM1", attempts: 2 })
          expect(await store.claimPerson(START, LEASE)).toMatchObject({ person: "omar" })
          expect((await store.unsettledOutgoing(START)).map((message) => message.key)).toEqual(["k1"])
          expect((await store.unsettledOutgoing(plus(15))).map((message) => message.key)).toEqual(["k1", "k2"])
          expect(await store.claimOutgoing(START, LEASE)).toBeNull()
        })
      })

    if (can.share)
      describe("with a second worker", () => {
        it("hands each thing to one of the two, and only its holder settles it", async () => {
          const other = await promised(under.second)()
          await store.queue(Array.from({ length: 40 }, (_, i) => nudge(`k${i}`)))
          const claims = await Promise.all(
            Array.from({ length: 80 }, (_, i) => (i % 2 ? store : other).claimOutgoing(START, LEASE)),
          )
          const keys = claims.flatMap((claim) => (claim ? [claim.key] : []))
          expect(keys).toHaveLength(40)
          expect(new Set(keys).size).toBe(40)
          const settled = await Promise.all(
            keys.flatMap((key) => [store, other].map((each) => each.settleOutgoing(key, 1, SENT, [sent(key)]))),
          )
          expect(settled.filter(Boolean)).toHaveLength(40)
          expect((await other.entries(GARDEN)).map((entry) => entry.seq)).toEqual(
            Array.from({ length: 40 }, (_, i) => i + 1),
          )
          await other.close()
        })

        it("gives what a person writes to one after the other, in the order it came", async () => {
          const other = await promised(under.second)()
          await store.keepIncoming(incoming("SM1"))
          await store.keepIncoming(incoming("SM2"))
          expect(await store.claimIncoming(START, LEASE)).toMatchObject({ id: "SM1" })
          expect(await other.claimIncoming(START, LEASE)).toBeNull()
          await store.settleIncoming("SM1", [reply("one")], [])
          expect(await other.claimIncoming(START, LEASE)).toMatchObject({ id: "SM2" })
          await other.close()
        })

        it("gives each garden to one of the two", async () => {
          const other = await promised(under.second)()
          await store.serve(
            Array.from({ length: 40 }, (_, i) => ({ id: `g${i}`, mark: "1" })),
            "all others",
          )
          const claims = await Promise.all([store, other].map((each) => each.claimGardens(START, LEASE, 30)))
          const rest = await store.claimGardens(START, LEASE, 30)
          expect([...claims.flat(), ...rest]).toHaveLength(40)
          expect(new Set([...claims.flat(), ...rest]).size).toBe(40)
          await other.close()
        })
      })
  })
}

function promised<T>(able: T | undefined): T {
  if (able === undefined) throw new Error("this kind of store was said to be able to do it")
  return able
}
