import { beforeEach, describe, expect, it } from "vitest"
import type { Store } from "../../../src/bot/needs.ts"
import { GARDEN, incoming, LEASE, nudge, plus, reply, SENT, START, sent } from "../../store/samples.ts"

/** Gardens to look after: due when something changed or their time has come, and only then. */
export function gardensContract(current: () => Store): void {
  describe("gardens to look after", () => {
    let store: Store
    beforeEach(() => {
      store = current()
    })
    const claim = (minutes = 0, most = 100) => store.claimGardens(plus(minutes), LEASE, most)

    it("are due at once where they are new or their mark changed, and not again before their time", async () => {
      await store.serve(
        [
          { id: "allotment", mark: "1" },
          { id: GARDEN, mark: "1" },
        ],
        "all others",
      )
      expect(await claim()).toEqual(["allotment", GARDEN])
      await store.lookedAfter("allotment", 0, plus(60))
      await store.lookedAfter(GARDEN, 0, plus(30))
      expect(await claim(29.999)).toEqual([])
      await store.serve([{ id: "allotment", mark: "1" }], [])
      expect(await claim()).toEqual([])
      await store.serve([{ id: "allotment", mark: "2" }], [])
      expect(await claim()).toEqual(["allotment"])
      await store.lookedAfter("allotment", 0, plus(60))
      expect(await claim(60, 1)).toEqual([GARDEN])
      expect(await claim(60, 1)).toEqual(["allotment"])
    })

    it("are due at once after every entry, also one that came while they were looked after", async () => {
      await store.serve([{ id: GARDEN, mark: "1" }], "all others")
      await claim()
      await store.append([reply("one")])
      await store.lookedAfter(GARDEN, 0, plus(600))
      expect(await claim()).toEqual([GARDEN])
      await store.lookedAfter(GARDEN, 1, plus(600))
      expect(await claim()).toEqual([])
      await store.keepIncoming(incoming("SM1"))
      await store.settleIncoming("SM1", [reply("two")], [])
      expect(await claim()).toEqual([GARDEN])
      await store.lookedAfter(GARDEN, 2, plus(600))
      await store.queue([nudge("k1")])
      await store.claimOutgoing(START, LEASE)
      await store.settleOutgoing("k1", 1, SENT, [sent("cut")])
      expect(await claim()).toEqual([GARDEN])
      expect(await claim()).toEqual([])
    })

    it("come back where their worker is gone", async () => {
      await store.serve([{ id: GARDEN, mark: "1" }], "all others")
      expect(await claim()).toEqual([GARDEN])
      expect(await claim(0.5)).toEqual([])
      expect(await claim(1)).toEqual([GARDEN])
    })

    it("are left alone where they are served no more, with their logs kept", async () => {
      await store.append([reply("a", "allotment")])
      await store.serve(
        [
          { id: "allotment", mark: "1" },
          { id: "orchard", mark: "1" },
          { id: GARDEN, mark: "1" },
        ],
        "all others",
      )
      await store.serve([], ["orchard"])
      await store.serve([{ id: GARDEN, mark: "1" }], "all others")
      await store.append([reply("b", "allotment")])
      expect(await claim(999)).toEqual([GARDEN])
      expect(await store.entries("allotment")).toHaveLength(2)
      await store.serve([{ id: "allotment", mark: "1" }], [])
      expect(await claim(999)).toEqual([GARDEN, "allotment"].filter((id) => id !== GARDEN))
    })
  })
}
