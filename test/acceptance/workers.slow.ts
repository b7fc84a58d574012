import { setTimeout as wait } from "node:timers/promises"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import type { Entry } from "../../src/garden/entry.ts"
import { drawer } from "../stand-ins/carrier-book.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"
import { type Office, openOffice } from "./workers.ts"

const SKEWS_MS = [90_000, -90_000, 0, 45_000]

/** What the carrier's book and the logs must agree upon, whatever befell the workers. */
async function judge(office: Office): Promise<{ lost: number; doubled: number; texts: number; bodies: Set<string> }> {
  const nudges = nudgesOf(office)
  const counts = office.phones.map((phone) => nudges.filter((text) => text.to === phone).length)
  const logs = await office.logs()
  for (const log of logs) {
    expect(log.map((entry) => entry.seq)).toEqual(log.map((_, i) => i + 1))
    const keys = log.flatMap((entry) => (entry.kind === "sent" && entry.message ? [entry.message] : []))
    expect(new Set(keys).size).toBe(keys.length)
  }
  // Each text that the carrier took stands in the log once, and the log tells of none that it did not take.
  const sent = logs.map((log) => log.filter((entry) => entry.kind === "sent").length)
  expect(sent).toEqual(counts.map((count) => Math.min(count, 1)))
  const later = await office.later()
  return {
    // Whoever was answered that morning hears at the next set time: their reminder must stand there.
    lost: counts.filter((count, i) => count === 0 && !(wasAnswered(logs[i] ?? []) && later.has(`plot-${i}`))).length,
    doubled: counts.reduce((sum, count) => sum + Math.max(0, count - 1), 0),
    texts: nudges.length,
    bodies: new Set(nudges.map((text) => text.body)),
  }
}

function wasAnswered(log: readonly Entry[]): boolean {
  return log.some((entry) => entry.kind === "answer")
}

/** Texts that tell what is due; others answer. */
function nudgesOf(office: Office) {
  return office.carrier.taken.filter((text) => !text.body.startsWith("Next: "))
}

async function quiet(office: Office, seconds: number): Promise<void> {
  for (let i = 0; i < seconds * 2; i += 1) {
    const { outgoing, incoming } = await office.waiting()
    // Told, or answered before it was their turn.
    const heard = new Set(office.carrier.taken.map((text) => text.to)).size
    if (outgoing === 0 && incoming === 0 && heard === office.phones.length && (await office.due()) === 0) return
    await wait(500)
  }
}

function repliesIn(log: readonly Entry[]): string[] {
  return log.flatMap((entry) => (entry.kind === "reply" && entry.message ? [entry.message] : []))
}

describe.skipIf(WITHOUT_POSTGRES)(WITHOUT_POSTGRES ?? "many workers on one database", () => {
  let server: PostgresServer
  beforeAll(async () => {
    server = await startPostgres()
  })
  afterAll(() => server?.remove())

  it.each([1, 2, 5])("%i of them send each text once, with clocks 90 s apart (T21)", async (count) => {
    const office = await openOffice(server, { gardens: 120, speed: 20, seed: count })
    try {
      for (let i = 0; i < count; i += 1) office.hire(SKEWS_MS[i % SKEWS_MS.length])
      await quiet(office, 600)
      const found = await judge(office)
      expect(found).toMatchObject({ lost: 0, doubled: 0, texts: 120 })
      expect(found.bodies.size).toBe(1)
    } finally {
      await office.close()
    }
  })

  it("lose nothing and double nothing while one of four is killed every few seconds and their line is cut", async () => {
    const office = await openOffice(server, { gardens: 400, speed: 20, seed: 7 })
    const draw = drawer(7)
    const killed: number[] = []
    let cuts = 0
    try {
      // A carrier so slow that the morning lasts for most of the killing.
      office.carrier.knobs.lateMs = 900
      const alive = SKEWS_MS.map((skew) => office.hire(skew))
      // The killing begins with the peak and ends with it, however slow the machine is.
      for (let i = 0; i < 1200 && nudgesOf(office).length === 0; i += 1) await wait(100)
      const until = performance.now() + 240_000
      const asked = new Map<string, string>()
      let replies = 0
      while (performance.now() < until && nudgesOf(office).length < office.phones.length) {
        await wait(500 + draw() * 2500)
        // A worker that is not up yet would be killed for nothing.
        const up = alive.flatMap((worker, i) => (worker.text().includes("Ryebell is running") ? [i] : []))
        const i = up[Math.floor(draw() * up.length)]
        if (i === undefined) continue
        await alive[i]?.kill()
        killed.push(nudgesOf(office).length)
        alive[i] = office.hire(SKEWS_MS[i])
        if (draw() < 0.5) {
          office.line.cut()
          cuts += 1
        }
        for (let n = 0; n < 4; n += 1) {
          replies += 1
          const phone = office.phones[Math.floor(draw() * office.phones.length)] as string
          const id = `SM${String(replies).padStart(32, "0")}`
          asked.set(id, phone)
          for (let times = 0; times < 1 + draw() * 3; times += 1) await office.hears(phone, "what next", id)
        }
      }
      await quiet(office, 420)
      const found = await judge(office)
      console.log(
        `${killed.length} kills (${killed.filter((taken) => taken > 0 && taken < 400).length} amid the peak), ${cuts} cuts, ` +
          `${replies} replies: ${found.lost} lost, ${found.doubled} doubled of ${found.texts} texts`,
      )
      expect(found).toMatchObject({ lost: 0, doubled: 0 })
      expect(await office.waiting()).toEqual({ outgoing: 0, incoming: 0 })
      const logs = await office.logs()
      const logged = logs.flatMap(repliesIn)
      expect(logged.sort()).toEqual([...asked.keys()].sort())
    } finally {
      await office.close()
    }
  })

  it("catch up without a flood when the database was away for a minute", async () => {
    const office = await openOffice(server, { gardens: 120, speed: 20, seed: 3 })
    try {
      office.hire(90_000)
      office.hire(-90_000)
      for (let i = 0; i < 240 && office.carrier.taken.length < 20; i += 1) await wait(100)
      await server.halt("kill")
      await wait(60_000)
      const before = office.carrier.taken.length
      expect(before).toBeLessThan(120)
      await server.start()
      await quiet(office, 420)
      const found = await judge(office)
      console.log(`${before} texts before, ${found.texts} after: ${found.lost} lost, ${found.doubled} doubled`)
      expect(found).toMatchObject({ lost: 0, doubled: 0 })
      for (const worker of office.workers) expect(worker.child.exitCode).toBeNull()
    } finally {
      await office.close()
    }
  })
})
