import { PgBoss, type Queue } from "pg-boss"
import type { Engine, Job, Worker } from "../bot/needs.ts"
import { MINUTE_MS } from "../values/instant.ts"
import { type Beat, beatEveryMinute } from "./in-process.ts"

/** The engine keeps its tables apart from ours. */
const SCHEMA = "ryebell_jobs"
const CONNECTIONS = 4
const MINUTE = "minute"
const DEAD = "dead"

/** A worker that gives no sign for so long is taken for dead; the engine looks once a minute. */
const HEARTBEAT_S = 30
/** A job gives way to others after so long; what is left of it comes round with the next minute. */
const LONGEST_MS = 50_000
/** On a database that cannot wake us, and as a backstop where it can. */
const POLL_S = { asleep: 2, woken: 30 }
/** An orderly stop waits so long for what is under way. */
const STOP_MS = 10_000
/** A trial's minute may be short, but the engine's own rounds are not. */
const FASTEST_MS = 500

const common: Omit<Queue, "name"> = {
  // Of jobs with one key one is queued or under way: whoever hands out the same again does nothing.
  policy: "exclusive",
  deadLetter: DEAD,
  heartbeatSeconds: HEARTBEAT_S,
  expireInSeconds: 600,
  retryLimit: 4,
  retryDelay: 15,
  retryBackoff: true,
  retryDelayMax: 300,
  // What was not begun after an hour is handed out anew by then; what is done leaves no trace worth keeping.
  retentionSeconds: 3600,
  deleteAfterSeconds: 300,
  notify: true,
}

/**
 * One may be queued while others are under way: what falls due behind the back of one is found by the next, and nothing
 * waits for a process that died until the engine has noticed.
 */
const flowing: Omit<Queue, "name"> = { ...common, policy: "short" }

/** How each kind of work is queued, and how much of it one process takes on at once. */
const QUEUES: Record<Job["kind"], { queue: Omit<Queue, "name">; batch: number; atOnce: number }> = {
  deliver: { queue: flowing, batch: 1, atOnce: 1 },
  send: { queue: flowing, batch: 1, atOnce: 1 },
  replan: { queue: common, batch: 20, atOnce: 1 },
  digest: { queue: common, batch: 5, atOnce: 1 },
  weather: { queue: { ...common, expireInSeconds: 3600 }, batch: 1, atOnce: 1 },
}

export type QueueOptions = {
  url: string
  speed: number
  worker: Worker
  /** How often a process looks for work that the database did not wake it for: tries that are due again. */
  lookEverySeconds?: number
  onError(error: unknown): void
}

/**
 * Works as one of any number of processes on one database. The engine (pg-boss) has one of them find out once a minute what
 * there is to do, hands it to whoever is free, tries again with growing waits what fails, gives the work of a process that
 * died to another, and puts aside what fails for good. `stop` ends what is under way within ten seconds.
 */
export async function workFromQueue(options: QueueOptions): Promise<Beat> {
  const { url, speed, worker, onError } = options
  const boss = new PgBoss({
    connectionString: url,
    schema: SCHEMA,
    application_name: "ryebell jobs",
    max: CONNECTIONS,
    useListenNotify: true,
    cronMonitorIntervalSeconds: 10,
    cronWorkerIntervalSeconds: 5,
    persistWarnings: false,
    registerInstance: false,
  })
  boss.on("error", onError)
  await boss.start()
  let stopping = false
  const isOpen = () => !stopping

  async function hand(jobs: readonly Job[]): Promise<void> {
    if (stopping) return
    for (const kind of Object.keys(QUEUES) as Job["kind"][]) {
      const ours = jobs.filter((job) => job.kind === kind)
      if (ours.length > 0)
        await boss.insert(
          kind,
          ours.map((job) => ({ data: job, singletonKey: keyOf(job) })),
        )
    }
  }

  function engine(): Engine {
    const until = performance.now() + LONGEST_MS
    return { hand, goOn: () => isOpen() && performance.now() < until }
  }

  await boss.createQueue(DEAD, { retryLimit: 0, deleteAfterSeconds: 14 * 24 * 3600 })
  await boss.createQueue(MINUTE, {
    ...flowing,
    retryLimit: 0,
    expireInSeconds: 300,
    retentionSeconds: 60,
    deadLetter: DEAD,
  })
  const woken = options.lookEverySeconds ?? POLL_S.woken
  const polling = { pollingIntervalSeconds: Math.min(POLL_S.asleep, woken), notifyPollingIntervalSeconds: woken }
  for (const [kind, { queue, batch, atOnce }] of Object.entries(QUEUES)) {
    await boss.createQueue(kind, queue)
    await boss.work<Job>(
      kind,
      { ...polling, batchSize: batch, localConcurrency: atOnce, burstWhenBatchFull: true, perJobResults: true },
      async (jobs) => {
        const results: { id: string; status: "completed" | "failed"; output?: object }[] = []
        // Those whose turn does not come any more are given back at once and not when their heartbeat ends.
        for (const { id, data } of jobs) {
          try {
            if (!isOpen()) throw new Error("the process stops")
            await worker.do(data, engine())
            results.push({ id, status: "completed" })
          } catch (error) {
            if (isOpen()) onError(error)
            results.push({ id, status: "failed", output: { message: messageOf(error) } })
          }
        }
        return results
      },
    )
  }
  await boss.work(MINUTE, polling, async () => worker.minute(engine()))
  await boss.work<Job>(DEAD, polling, async (jobs) => {
    for (const { data } of jobs) onError(new Error(`a job failed for good: ${data.kind} ${keyOf(data)}`))
  })
  const own = beatEveryMinute(() => worker.beat(), speed, onError)
  const schedule = await everyMinute(boss, speed, onError)
  // Whatever waits need not wait for the first full minute.
  await boss.insert(MINUTE, [{ singletonKey: MINUTE }])

  return {
    async stop() {
      stopping = true
      schedule()
      await own.stop()
      await boss.stop({ graceful: true, timeout: STOP_MS, close: true })
    },
  }
}

/** The engine's own schedule; a trial whose clock runs fast has its minutes sent, and the engine keeps one of them. */
async function everyMinute(boss: PgBoss, speed: number, onError: (error: unknown) => void): Promise<() => void> {
  if (speed <= 1) {
    await boss.schedule(MINUTE, "* * * * *", {}, { tz: "UTC", singletonKey: MINUTE })
    return () => {}
  }
  const send = () => void boss.insert(MINUTE, [{ singletonKey: MINUTE }]).catch(onError)
  const timer = setInterval(send, Math.max(FASTEST_MS, MINUTE_MS / speed))
  return () => clearInterval(timer)
}

function keyOf(job: Job): string {
  switch (job.kind) {
    case "replan":
      return job.garden
    case "digest":
      return `${job.garden}/${job.person}`
    case "deliver":
    case "send":
      return String(job.lane)
    case "weather":
      return "all"
    default:
      return job satisfies never
  }
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}
