import { readFileSync, rmSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { describe, expect, it } from "vitest"
import { bot, command, freshFolder } from "./program.ts"

const KILLS = 50

/** A seeded sequence of numbers from 0 to 1 (mulberry32, from memory): the same kills in every run. */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

describe("kill -9 of the running bot", () => {
  it(`loses no reply that was answered, in ${KILLS} kills at seeded moments`, async () => {
    const data = freshFolder("kills")
    const garden = join(data, "garden.yaml")
    // In metric units, so that an answer names the very figure that was told: whose answer it is must be certain.
    const text = readFileSync(new URL("../../config/garden.yaml", import.meta.url), "utf8")
    writeFileSync(garden, text.replace("units: us ", "units: metric "))
    const env = {
      RYEBELL_DATA: data,
      RYEBELL_GARDEN: garden,
      RYEBELL_CLOCK: "2026-05-10T12:00:00Z",
      LOG_LEVEL: "silent",
    }
    const random = seeded(7)
    const acknowledged: string[] = []
    for (let kill = 0; kill < KILLS; kill += 1) {
      const running = bot(["run"], env)
      await running.says("Ryebell is running")
      const replies = 1 + Math.floor(random() * 3)
      for (let i = 0; i < replies; i += 1) {
        const height = 10 + kill * 3 + i
        running.type(`south rye is ${height} cm tall`)
        const answered = running
          .says(new RegExp(`of ${height} cm `))
          .then(() => acknowledged.push(`south rye is ${height} cm tall`))
        if (i < replies - 1) await answered
        else {
          answered.catch(() => {})
          await new Promise((resolve) => setTimeout(resolve, random() * 120))
        }
      }
      await running.kill()
    }
    const log = await command(["log", "--json"], {
      env: { ...env, RYEBELL_CLOCK: "2026-05-10T13:00:00Z" },
    })
    const kept = log.out
      .split("\n")
      .filter(Boolean)
      .map((line) => JSON.parse(line))
    const texts = kept.filter((entry) => entry.kind === "reply").map((entry) => entry.text)
    expect(acknowledged.length).toBeGreaterThan(KILLS / 2)
    expect(acknowledged.filter((text) => !texts.includes(text))).toEqual([])
    expect(texts.length).toBe(new Set(texts).size)
    expect(kept.map((entry) => entry.seq)).toEqual(kept.map((_, index) => index + 1))
    rmSync(data, { recursive: true, force: true })
  })
})
