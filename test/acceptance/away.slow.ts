import { copyFileSync, rmSync } from "node:fs"
import { join } from "node:path"
import { describe, expect, it } from "vitest"
import { bot, freshFolder } from "./program.ts"

describe("a machine that was off", () => {
  for (const [days, back] of [
    [1, "2026-05-11T08:30:00-04:00"],
    [9, "2026-05-19T08:30:00-04:00"],
    [60, "2026-07-09T08:30:00-04:00"],
    [300, "2027-03-06T08:30:00-05:00"],
    [400, "2027-06-14T08:30:00-04:00"],
  ] as const) {
    it(`for ${days} days sends each person one text at most on its return (T13, T14)`, async () => {
      const data = freshFolder("away")
      const garden = join(data, "garden.yaml")
      copyFileSync(new URL("../../config/garden.yaml", import.meta.url), garden)
      const env = { RYEBELL_DATA: data, RYEBELL_GARDEN: garden, LOG_LEVEL: "silent" }
      const before = bot(["run"], { ...env, RYEBELL_CLOCK: "2026-05-10T08:30:00-04:00" })
      await before.says("Ryebell is running")
      await new Promise((resolve) => setTimeout(resolve, 1500))
      await before.stop()
      // An hour in a few seconds: the tick comes round many times.
      const after = bot(["run"], { ...env, RYEBELL_CLOCK: `${back}x600` })
      await after.says("Ryebell is running")
      await new Promise((resolve) => setTimeout(resolve, 5000))
      await after.stop()
      const texts = after.text().match(/text to \w+ \(/g) ?? []
      expect(texts.length, after.text()).toBeLessThanOrEqual(1)
      rmSync(data, { recursive: true, force: true })
    })
  }
})
