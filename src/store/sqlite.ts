import type { Store } from "../bot/needs.ts"
import type { Connection } from "./sqlite/connection.ts"
import { gardenVerbs } from "./sqlite/gardens.ts"
import { inboxVerbs } from "./sqlite/inbox.ts"
import { keptVerbs } from "./sqlite/kept.ts"
import { logVerbs } from "./sqlite/log.ts"
import { memoryVerbs } from "./sqlite/memory.ts"
import { outboxVerbs } from "./sqlite/outbox.ts"
import { reminderVerbs } from "./sqlite/reminders.ts"

/**
 * The store over one database connection: each verb one transaction. `file` names the database in messages; `look` throws
 * where the files below the connection are not the ones that were opened.
 */
export function sqliteStore(connection: Connection, file: string, look: () => void = () => {}): Store {
  const { db, read, write } = connection
  const log = logVerbs(db, file)
  const inbox = inboxVerbs(db, file)
  const outbox = outboxVerbs(db, file)
  const reminders = reminderVerbs(db)
  const gardens = gardenVerbs(db)
  const kept = keptVerbs(db, file)
  const memory = memoryVerbs(db)
  let probes = 0

  return {
    entries: async (garden, after) => read(() => log.entries(garden, after)),
    append: async (entries, seen) => write("keep", () => log.append(entries, seen)),

    keepIncoming: async (incoming) => write("keep", () => inbox.keep(incoming)),
    claimIncoming: async (now, leaseMs) => write("keep", () => inbox.claim(now, leaseMs)),
    settleIncoming: async (id, entries, outgoing, seen) =>
      write("keep", () => {
        if (!inbox.markApplied(id)) return []
        outbox.queue(outgoing)
        return log.append(entries, seen)
      }),

    serve: async (served, gone) => write("start", () => gardens.serve(served, gone)),
    claimGardens: async (now, leaseMs, most) => write("start", () => gardens.claim(now, leaseMs, most)),
    lookedAfter: async (garden, seq, next) => write("start", () => gardens.lookedAfter(garden, seq, next)),

    keepGarden: async (garden, before) => write("keep", () => kept.keep(garden, before)),
    keptGardens: async (after) => read(() => kept.kept(after)),

    placeReminders: async (garden, rows) => write("start", () => reminders.place(garden, rows)),
    claimPerson: async (now, leaseMs) => write("start", () => reminders.claim(now, leaseMs)),
    settlePerson: async (due, outgoing, moved, entries, seen) =>
      write("start", () => {
        if (!reminders.giveBack(due)) return false
        outbox.queue(outgoing)
        for (const each of moved) reminders.move(due.garden, each)
        log.append(entries, seen)
        return true
      }),

    queue: async (outgoing) => write("start", () => outbox.queue(outgoing)),
    claimOutgoing: async (now, leaseMs) => write("start", () => outbox.claim(now, leaseMs)),
    settleOutgoing: async (key, attempt, outcome, entries) =>
      write("keep", () => {
        if (!outbox.settle(key, attempt, outcome)) return false
        log.append(entries)
        return true
      }),
    outgoing: async (key) => read(() => outbox.one(key)),
    unsettledOutgoing: async (now) => read(() => outbox.unsettled(now)),
    recordFate: async (key, fate, code) => write("keep", () => outbox.recordFate(key, fate, code)),

    recall: async (name) => read(() => memory.recall(name)),
    remember: async (name, value) => write("keep", () => memory.remember(name, value)),
    tally: async (name, more) => write("keep", () => memory.tally(name, more)),
    depth: async () => read(memory.depth),

    async probe() {
      probes += 1
      const said = `${process.pid}:${probes}`
      write("keep", () => memory.remember("probe", said))
      if (read(() => memory.recall("probe")) !== said) throw new Error(`${file} did not give back what was written`)
      read(look)
    },
    close: async () => connection.close(),
  }
}

/** Ends all leases: those of a process that is gone, when the next one starts. */
export function endLeases(connection: Connection, file: string): void {
  connection.write("keep", () => {
    gardenVerbs(connection.db).giveBackAll()
    reminderVerbs(connection.db).giveBackAll()
    inboxVerbs(connection.db, file).giveBackAll()
    outboxVerbs(connection.db, file).endLeases()
  })
}
