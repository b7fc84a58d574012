import { randomUUID } from "node:crypto"
import { fileURLToPath } from "node:url"
import type { Store } from "../bot/needs.ts"
import { readSteps, type Step } from "./migrate.ts"
import type { OpenedStore, StoreReader } from "./opened.ts"
import { gardenVerbs } from "./postgres/gardens.ts"
import { inboxVerbs } from "./postgres/inbox.ts"
import { keptReader, keptVerbs } from "./postgres/kept.ts"
import { logReader, logVerbs } from "./postgres/log.ts"
import { memoryReader, memoryVerbs } from "./postgres/memory.ts"
import { migratePostgres, refuseNewerDatabase, versionIn } from "./postgres/migrate.ts"
import { fateReader, outboxVerbs } from "./postgres/outbox.ts"
import { reminderVerbs } from "./postgres/reminders.ts"
import { connectAlone, openSession, placeOf, type Session } from "./postgres/session.ts"
import { workerVerbs } from "./postgres/worker.ts"
import { StoreTrouble } from "./trouble.ts"

/** Connections of one worker. Statements are short, so a few serve hundreds of calls at once. */
const CONNECTIONS = 8

/** The steps that this program knows. */
export function knownPostgresSteps(): Step[] {
  return readSteps(fileURLToPath(new URL("./postgres/", import.meta.url)))
}

/**
 * Opens a PostgreSQL database as one of any number of workers, and makes or updates its tables first. Leases run by the
 * database's clock, so workers whose clocks differ do not take each other's work.
 * Throws a StoreTrouble: `away`, `not-writable`, `newer`, `foreign`.
 */
export async function openPostgres(
  url: string,
  options: { steps?: readonly Step[]; connections?: number } = {},
): Promise<OpenedStore> {
  const found = await migratePostgres(url, options.steps ?? knownPostgresSteps())
  const session = openSession(url, options.connections ?? CONNECTIONS)
  const worker = randomUUID()
  const self = workerVerbs(session, worker)
  const { notices } = await self.look()
  return {
    ...postgresStore(session, worker),
    isNew: found === 0,
    notices: () => notices,
    time: self.time,
    // A server that is away comes back: no failure of it ends this process.
    broken: new Promise(() => {}),
  }
}

/** Opens a database for reading; null: nothing was ever written there. Throws `newer`, `older`, `away`, `not-writable`. */
export async function readPostgres(url: string): Promise<StoreReader | null> {
  const place = placeOf(url)
  const client = await connectAlone(url)
  const found = await versionIn(client, place).finally(() => client.end().catch(() => {}))
  const known = knownPostgresSteps().length
  refuseNewerDatabase(found, known, place)
  if (found === 0) return null
  if (found < known)
    throw new StoreTrouble(
      "older",
      `The database ${place} has version ${found}, this program works with ${known}. Start \`ryebell run\` once: it brings it up to date.`,
    )
  const session = openSession(url, 1)
  const { entries, gardens } = logReader(session)
  const { recall } = memoryReader(session)
  const { kept } = keptReader(session)
  const { fates } = fateReader(session)
  return { gardens, entries, recall, fates, keptGardens: kept, close: () => session.close() }
}

/** The store over the connections of one worker: each verb one statement, and so one transaction. */
export function postgresStore(session: Session, worker: string): Store {
  const log = logVerbs(session)
  const inbox = inboxVerbs(session, worker)
  const outbox = outboxVerbs(session, worker)
  const reminders = reminderVerbs(session, worker)
  const gardens = gardenVerbs(session)
  const kept = keptVerbs(session)
  const memory = memoryVerbs(session)
  const self = workerVerbs(session, worker)
  let probes = 0

  return {
    entries: (garden, after) => log.entries(garden, after),
    append: (entries, seen) => log.append(entries, seen),
    keepIncoming: (incoming) => inbox.keep(incoming),
    claimIncoming: (now, leaseMs) => inbox.claim(now, leaseMs),
    settleIncoming: (id, entries, outgoing, seen = null) => inbox.settle(id, entries, outgoing, seen),
    serve: (served, gone) => gardens.serve(served, gone),
    claimGardens: (now, leaseMs, most) => gardens.claim(now, leaseMs, most),
    lookedAfter: (garden, seq, next) => gardens.lookedAfter(garden, seq, next),
    keepGarden: (garden, before) => kept.keep(garden, before),
    keptGardens: (after) => kept.kept(after),
    placeReminders: (garden, rows) => reminders.place(garden, rows),
    claimPerson: (now, leaseMs) => reminders.claim(now, leaseMs),
    settlePerson: (due, outgoing, moved, entries, seen = null) => reminders.settle(due, outgoing, moved, entries, seen),
    queue: (outgoing) => outbox.queue(outgoing),
    claimOutgoing: (now, leaseMs) => outbox.claim(now, leaseMs),
    settleOutgoing: (key, attempt, outcome, entries) => outbox.settle(key, attempt, outcome, entries),
    outgoing: (key) => outbox.one(key),
    unsettledOutgoing: (now) => outbox.unsettled(now),
    recordFate: (key, fate, code) => outbox.recordFate(key, fate, code),
    recall: (name) => memory.recall(name),
    remember: (name, value) => memory.remember(name, value),
    tally: (name, more) => memory.tally(name, more),
    depth: () => memory.depth(),
    async probe() {
      probes += 1
      const name = `probe:${worker}`
      await memory.remember(name, String(probes))
      if ((await memory.recall(name)) !== String(probes))
        throw new Error(`${session.place} did not give back what was written`)
    },
    async close() {
      await self.leave()
      await session.close()
    },
  }
}
