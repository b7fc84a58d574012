import { describe, expect, it } from "vitest"
import { LogMovedOn, type Store } from "../../../src/bot/needs.ts"

/** Gardens that no file has. */
export function keptContract(storeNow: () => Store): void {
  describe("kept gardens", () => {
    const text = "garden: Sam's plot\n# \u{1F33E} ñ\nbeds: []\n"

    it("come back as they were written, in the order of their changes, and only those after an edition", async () => {
      const store = storeNow()
      expect(await store.keptGardens(0)).toEqual([])
      const first = await store.keepGarden({ id: "acre-1", host: "acre", text }, null)
      const second = await store.keepGarden({ id: "acre-2", host: null, text: "b" }, null)
      expect(second.edition).toBeGreaterThan(first.edition)
      expect(await store.keptGardens(0)).toEqual([first, second])
      const changed = await store.keepGarden({ id: "acre-1", host: "acre", text: "c" }, first.edition)
      expect(await store.keptGardens(second.edition)).toEqual([changed])
      expect((await store.keptGardens(0)).map(({ id }) => id)).toEqual(["acre-2", "acre-1"])
    })

    it("are not written over by somebody who has not seen their last edition", async () => {
      const store = storeNow()
      const first = await store.keepGarden({ id: "acre-1", host: null, text }, null)
      await expect(store.keepGarden({ id: "acre-1", host: null, text: "x" }, null)).rejects.toThrow(LogMovedOn)
      await expect(store.keepGarden({ id: "acre-9", host: null, text: "x" }, first.edition)).rejects.toThrow(LogMovedOn)
      await store.keepGarden({ id: "acre-1", host: null, text: "b" }, first.edition)
      await expect(store.keepGarden({ id: "acre-1", host: null, text: "c" }, first.edition)).rejects.toThrow(LogMovedOn)
      expect((await store.keptGardens(0)).map((kept) => kept.text)).toEqual(["b"])
    })

    it("changed by many at once have each change numbered once", async () => {
      const store = storeNow()
      const kept = await Promise.all(
        Array.from({ length: 20 }, (_, i) => store.keepGarden({ id: `acre-${i}`, host: "acre", text: `${i}` }, null)),
      )
      expect(new Set(kept.map(({ edition }) => edition)).size).toBe(20)
      expect(await store.keptGardens(0)).toHaveLength(20)
    })
  })
}
