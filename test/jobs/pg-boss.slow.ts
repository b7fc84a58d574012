import { setTimeout as wait } from "node:timers/promises"
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest"
import type { Engine, Job, Worker } from "../../src/bot/needs.ts"
import type { Beat } from "../../src/jobs/in-process.ts"
import { workFromQueue } from "../../src/jobs/pg-boss.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"

/** A worker that writes down what it was given. */
function noting(what: Partial<Worker> = {}) {
  const done: Job[] = []
  const worker: Worker & { done: Job[] } = {
    done,
    beat: async () => {},
    minute: async () => {},
    async do(job) {
      done.push(job)
    },
    ...what,
  }
  return worker
}

async function until(isSo: () => boolean, seconds = 60): Promise<void> {
  for (let i = 0; i < seconds * 20 && !isSo(); i += 1) await wait(50)
  expect(isSo()).toBe(true)
}

describe.skipIf(WITHOUT_POSTGRES)(WITHOUT_POSTGRES ?? "the job engine", () => {
  let server: PostgresServer
  const beats: Beat[] = []
  beforeAll(async () => {
    server = await startPostgres()
  })
  afterEach(async () => {
    for (const beat of beats.splice(0)) await beat.stop()
  })
  afterAll(() => server?.remove())

  const start = async (url: string, worker: Worker, onError: (error: unknown) => void = () => {}, speed = 60) => {
    const beat = await workFromQueue({ url, speed, worker, onError, lookEverySeconds: 0.5 })
    beats.push(beat)
    return beat
  }
  const newUrl = async () => server.url(await server.create())

  it("gives one of several processes the minute, and shares its work among them", async () => {
    const url = await newUrl()
    let minutes = 0
    const began = performance.now()
    const minute = async (engine: Engine) => {
      minutes += 1
      if (minutes === 1)
        await engine.hand(Array.from({ length: 200 }, (_, i) => ({ kind: "replan", garden: `g${i}` }) as const))
    }
    const slowly = async function (this: { done: Job[] }, job: Job) {
      this.done.push(job)
      await wait(5)
    }
    const workers = [noting({ minute, do: slowly }), noting({ minute, do: slowly }), noting({ minute, do: slowly })]
    for (const worker of workers) await start(url, worker)
    await until(() => workers.flatMap((worker) => worker.done).length >= 200 && minutes >= 3)
    const gardens = workers.flatMap((worker) => worker.done).map((job) => job.kind === "replan" && job.garden)
    expect(gardens).toHaveLength(200)
    expect(new Set(gardens).size).toBe(200)
    // A minute of the trial is a second: three processes send it, one gets it.
    expect(minutes).toBeLessThan(3 + (performance.now() - began) / 500)
    expect(workers.filter((worker) => worker.done.length > 0).length).toBeGreaterThan(1)
  })

  it("does not queue again what is queued or under way", async () => {
    const url = await newUrl()
    let release: () => void = () => {}
    const held = new Promise<void>((resolve) => {
      release = resolve
    })
    let handed = 0
    const minute = async (engine: Engine) => {
      handed += 1
      await engine.hand([{ kind: "replan", garden: "south" }])
    }
    const done: Job[] = []
    const worker = noting({
      minute,
      async do(job) {
        done.push(job)
        await held
      },
    })
    await start(url, worker)
    await until(() => handed >= 4 && done.length === 1)
    expect(done).toHaveLength(1)
    release()
  })

  it("tries again what failed, and tells of what failed for good", async () => {
    const url = await newUrl()
    const told: string[] = []
    let handed = false
    let tries = 0
    const worker = noting({
      async minute(engine) {
        if (handed) return
        handed = true
        await engine.hand([{ kind: "replan", garden: "poison" }])
      },
      async do() {
        tries += 1
        throw new Error("the plan has no beds")
      },
    })
    await start(url, worker, (error) => told.push(error instanceof Error ? error.message : String(error)))
    await until(() => tries === 1)
    // The waits between tries are the engine's and long: they are cut short in its own tables.
    for (let i = 0; i < 600 && !told.some((each) => each.includes("for good")); i += 1) {
      await server.run(
        url.split("/").at(-1) as string,
        "update ryebell_jobs.job set start_after = now() where state = 'retry'",
      )
      await wait(100)
    }
    expect(told.filter((each) => each === "the plan has no beds")).toHaveLength(5)
    expect(told.at(-1)).toBe("a job failed for good: replan poison")
  })

  it("ends what is under way when it stops, and leaves the rest to the others", async () => {
    const url = await newUrl()
    let under = 0
    const slow = (done: Job[]) =>
      noting({
        async do(job) {
          under += 1
          await wait(200)
          under -= 1
          done.push(job)
        },
      })
    const [first, second]: [Job[], Job[]] = [[], []]
    let handed = false
    const one = slow(first)
    one.minute = async (engine) => {
      if (handed) return
      handed = true
      await engine.hand(Array.from({ length: 12 }, (_, i) => ({ kind: "replan", garden: `g${i}` }) as const))
    }
    const beat = await start(url, one)
    await until(() => first.length >= 2)
    await beat.stop()
    beats.splice(0)
    expect(under).toBe(0)
    const before = first.length
    await wait(500)
    expect(first).toHaveLength(before)
    await start(url, slow(second))
    for (let i = 0; i < 300 && first.length + second.length < 12; i += 1) {
      await server.run(
        url.split("/").at(-1) as string,
        "update ryebell_jobs.job set start_after = now() where state = 'retry'",
      )
      await wait(100)
    }
    expect(new Set([...first, ...second].map((job) => job.kind === "replan" && job.garden)).size).toBe(12)
    expect(first.length + second.length).toBe(12)
  })
})
