import type { KeptGarden, Store } from "../bot/needs.ts"
import type { Entry } from "../garden/entry.ts"
import type { Instant } from "../values/instant.ts"
import type { StoreTrouble } from "./trouble.ts"

/** A store with what a start should say of it. */
export type OpenedStore = Store & {
  /** Nothing was there before: with a garden that has sowings behind it, the data folder may be the wrong one. */
  isNew: boolean
  /** What the operator should know now: a shared disk, little room, the ballast given up. */
  notices(): string[]
  /** Resolves at the first failure of the disk (of a folder; a database server comes back). Nothing is written after it: the process should say so and end with status 1. */
  broken: Promise<StoreTrouble>
  /** What the server's own clock says, where there is a server. */
  time?(): Promise<Instant>
}

/** A store that is only read, while another process may be writing in it. */
export type StoreReader = {
  /** Ids of the gardens that have a log, in order. */
  gardens(): Promise<string[]>
  entries(garden: string, after?: number): Promise<Entry[]>
  keptGardens(after: number): Promise<KeptGarden[]>
  recall(name: string): Promise<string | null>
  /** The carrier's last word on each message of a garden that it said one of, by our own key. */
  fates(garden: string): Promise<Map<string, string>>
  close(): Promise<void>
}
