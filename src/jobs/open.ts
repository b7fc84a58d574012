import type { Worker } from "../bot/needs.ts"
import { type Beat, beatEveryMinute } from "./in-process.ts"

export type JobsOptions = {
  /** The database of many workers; null: this process does everything itself. */
  url: string | null
  /** Above 1 a trial clock runs so many times faster. */
  speed: number
  /** A minute's work of a process that is alone. */
  tick(): Promise<void>
  /** The work of one of many. */
  worker(): Worker
  onError(error: unknown): void
}

/** Starts the work that comes round: by a clock of our own on the file database, by a job engine on PostgreSQL. */
export async function openJobs({ url, speed, tick, worker, onError }: JobsOptions): Promise<Beat> {
  if (url === null) return beatEveryMinute(tick, speed, onError)
  const { workFromQueue } = await import("./pg-boss.ts")
  return workFromQueue({ url, speed, worker: worker(), onError })
}
