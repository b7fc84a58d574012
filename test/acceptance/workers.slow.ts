import { setTimeout as wait } from "node:timers/promises"
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest"
import { drawer } from "../stand-ins/carrier-book.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"
import { judge, NO_HARM, nudgesOf, quiet, repliesIn, told } from "./office-judge.ts"
import { openOffice } from "./workers.ts"

// A machine that does much else takes its time: what counts is what is lost, not when.
vi.setConfig({ testTimeout: 1_800_000 })

const SKEWS_MS = [90_000, -90_000, 0, 45_000]

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
      expect(await quiet(office, 900)).toBe(true)
      const found = await judge(office)
      expect(found).toMatchObject({ ...NO_HARM, texts: 120 })
      expect(found.bodies.size).toBe(1)
    } finally {
      await office.close()
    }
  })

  it.each([2, 4, 5])(
    "lose and double nothing while one of %i is killed every few seconds and their line is cut",
    async (count) => {
      const office = await openOffice(server, { gardens: 400, speed: 20, seed: count })
      const draw = drawer(count)
      const killed: number[] = []
      let cuts = 0
      try {
        // A carrier so slow that the morning lasts for most of the killing.
        office.carrier.knobs.lateMs = 900
        const skewOf = (i: number) => SKEWS_MS[i % SKEWS_MS.length]
        const alive = Array.from({ length: count }, (_, i) => office.hire(skewOf(i)))
        // The killing begins with the peak and ends with it, however slow the machine is.
        await told(office, 1)
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
          alive[i] = office.hire(skewOf(i))
          if (draw() < 0.5) {
            office.line.cut()
            cuts += 1
          }
          for (let n = 0; n < 4; n += 1) {
            replies += 1
            const phone = office.phones[Math.floor(draw() * office.phones.length)] as string
            const id = `SM${String(replies).padStart(32, "0")}`
            asked.set(id, phone)
            const words = draw() < 0.1 ? "stop" : "what next"
            for (let times = 0; times < 1 + draw() * 3; times += 1) await office.hears(phone, words, id)
          }
        }
        expect(await quiet(office, 900)).toBe(true)
        const found = await judge(office)
        console.log(
          `${killed.length} kills (${killed.filter((taken) => taken > 0 && taken < 400).length} amid the peak), ${cuts} cuts, ` +
            `${replies} replies: ${found.lost} lost, ${found.doubled} doubled of ${found.texts} texts`,
        )
        expect(found).toMatchObject(NO_HARM)
        expect(await office.waiting()).toEqual({ outgoing: 0, incoming: 0 })
        const logs = await office.logs()
        const logged = logs.flatMap(repliesIn)
        expect(logged.sort()).toEqual([...asked.keys()].sort())
      } finally {
        await office.close()
      }
    },
  )

  it.each([2, 5])("%i of them catch up without a flood when the database was away for a minute", async (count) => {
    const office = await openOffice(server, { gardens: 120, speed: 20, seed: count })
    try {
      office.carrier.knobs.lateMs = 900
      for (let i = 0; i < count; i += 1) office.hire(SKEWS_MS[i % SKEWS_MS.length])
      await Promise.all(office.workers.map((worker) => worker.says("Ryebell is running", 300_000)))
      await told(office, 20)
      await server.halt("kill")
      await wait(60_000)
      const before = nudgesOf(office).length
      expect(before).toBeLessThan(120)
      await server.start()
      expect(await quiet(office, 900)).toBe(true)
      const found = await judge(office)
      console.log(`${before} texts before, ${found.texts} after: ${found.lost} lost, ${found.doubled} doubled`)
      expect(found).toMatchObject(NO_HARM)
      for (const worker of office.workers) expect(worker.child.exitCode).toBeNull()
    } finally {
      await office.close()
    }
  })
})
