import { readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { expect } from "vitest"
import type { Store } from "../../src/bot/needs.ts"
import { DATABASE, openStore } from "../../src/store/open.ts"
import { StoreTrouble } from "../../src/store/trouble.ts"
import { seeded } from "./kills.ts"
import { GARDEN, incoming, LEASE, nudge, plus, reply, START } from "./samples.ts"

const NUMBERS = Array.from({ length: 60 }, (_, i) => i)
let template: Buffer | null = null

/** A folder with sixty of everything. */
export async function filled(folder: string): Promise<string> {
  if (template === null) {
    const store = await openStore({ folder })
    await store.append(NUMBERS.map((i) => reply(`cut the south bed, no. ${i}`)))
    await store.queue(NUMBERS.map((i) => nudge(`k${i}`)))
    for (const i of NUMBERS) await store.keepIncoming(incoming(`SM${i}`))
    await store.placeReminders(
      GARDEN,
      NUMBERS.map((i) => ({ id: `r${i}`, person: "ines", speaksAt: plus(i) })),
    )
    await store.close()
    template = readFileSync(join(folder, DATABASE))
  }
  writeFileSync(join(folder, DATABASE), template)
  return folder
}

/** All words that the store holds, as it gives them out. */
async function words(store: Store): Promise<unknown> {
  const outgoing = []
  for (const i of NUMBERS) outgoing.push((await store.outgoing(`k${i}`))?.text)
  const kept = []
  for (let one = await store.claimIncoming(START, LEASE); one; one = await store.claimIncoming(START, LEASE))
    kept.push(one.text)
  return { entries: await store.entries(GARDEN), outgoing, kept }
}

async function opened(folder: string): Promise<unknown> {
  const store = await openStore({ folder })
  try {
    return await words(store)
  } finally {
    await store.close()
  }
}

/**
 * Flips one bit of a filled database, anywhere, and opens it; so many times. Each time it must either be found damaged and
 * left as it is, or give out every word as it was. How often it was found.
 */
export async function flipAndOpen(folder: string, times: number, seed: number): Promise<number> {
  await filled(folder)
  const file = join(folder, DATABASE)
  const whole = readFileSync(file)
  const expected = await opened(folder)
  const random = seeded(seed)
  let found = 0
  for (let i = 0; i < times; i += 1) {
    const bytes = Buffer.from(whole)
    const at = Math.floor(random() * bytes.length)
    bytes[at] = (bytes[at] ?? 0) ^ (1 << Math.floor(random() * 8))
    writeFileSync(file, bytes)
    try {
      expect(await opened(folder), `byte ${at}`).toEqual(expected)
    } catch (error) {
      if (!(error instanceof StoreTrouble)) throw error
      found += 1
      expect(["damaged", "foreign", "newer"], `byte ${at}: ${error.message}`).toContain(error.code)
      expect(readFileSync(file).equals(bytes), `byte ${at}: the damaged file was changed`).toBe(true)
    }
  }
  return found
}
