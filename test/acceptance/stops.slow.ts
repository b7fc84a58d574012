import { readFileSync, rmSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { expect, it } from "vitest"
import { openCarrier } from "../stand-ins/carrier.ts"
import { bot, freshFolder } from "./program.ts"

const ROUNDS = 16
const PORT = 18314
const INES = "+17175550142"

/** A seeded sequence of numbers from 0 to 1 (mulberry32, from memory). */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

it(`asked to stop at any moment it ends in order within ten seconds, and answers each reply once, in ${ROUNDS} stops (O13)`, async () => {
  const data = freshFolder("stops")
  const garden = join(data, "garden.yaml")
  const text = readFileSync(new URL("../../config/garden.yaml", import.meta.url), "utf8")
  writeFileSync(garden, text.replace("units: us ", "units: metric "))
  const carrier = await openCarrier()
  const random = seeded(11)
  const told: string[] = []
  const start = async () => {
    const running = bot(["run"], {
      RYEBELL_DATA: data,
      RYEBELL_GARDEN: garden,
      RYEBELL_CLOCK: `2026-05-10T12:${String(10 + told.length).padStart(2, "0")}:00Z`,
      LOG_LEVEL: "silent",
      PORT: String(PORT),
      PUBLIC_URL: "https://bell.example.org",
      TWILIO_ACCOUNT_SID: carrier.account,
      TWILIO_AUTH_TOKEN: carrier.token,
      TWILIO_FROM: carrier.number,
      TWILIO_API_URL: carrier.url,
    })
    await running.says("Ryebell is running", 60_000)
    return running
  }
  carrier.bot = { at: `http://127.0.0.1:${PORT}`, publicUrl: "https://bell.example.org" }
  for (let round = 0; round < ROUNDS; round += 1) {
    const running = await start()
    const words = `south rye is ${40 + round} cm tall`
    const { statuses } = await carrier.hears({ from: INES, body: words })
    if (statuses.includes(200)) told.push(words)
    await new Promise((resolve) => setTimeout(resolve, random() * 150))
    const asked = performance.now()
    await running.stop()
    expect(performance.now() - asked).toBeLessThan(10_000)
    expect(running.child.exitCode).toBe(0)
  }
  expect(told).toHaveLength(ROUNDS)
  const last = await start()
  const answersTo = (round: number) => carrier.taken.filter(({ body }) => body?.includes(` ${40 + round} cm `)).length
  const end = Date.now() + 120_000
  while (told.some((_, round) => answersTo(round) === 0) && Date.now() < end)
    await new Promise((resolve) => setTimeout(resolve, 200))
  expect(told.map((_, round) => answersTo(round))).toEqual(told.map(() => 1))
  await last.stop()
  await carrier.close()
  rmSync(data, { recursive: true, force: true })
})
