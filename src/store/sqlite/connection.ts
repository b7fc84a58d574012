import { DatabaseSync } from "node:sqlite"
import type { Ballast } from "../ballast.ts"
import { StoreTrouble, troubleOf } from "../trouble.ts"

/**
 * Why something is written. `keep`: it has happened and must not be lost, so the ballast is given up for it. `start`:
 * something new begins (a claim, a message): refused while the ballast is gone, since its outcome could not be kept.
 */
export type Purpose = "keep" | "start"

/** A database connection whose every write is one durable transaction, and which stops for good at the first failure of the disk. */
export type Connection = {
  db: DatabaseSync
  read<T>(work: () => T): T
  write<T>(purpose: Purpose, work: () => T): T
  /** Resolves at the first failure after which nothing may be written any more. */
  broken: Promise<StoreTrouble>
  close(): void
}

export type Journal = "wal" | "truncate"

/**
 * Commits and changed rows after which the write-ahead log is carried into the database. Carried by us and not by the
 * engine, which passes over a disk that fails meanwhile. 1000 rows are at most about 4 MB of log.
 */
const CHECKPOINT = { commits: 250, rows: 1000 }
/** The same while the disk is full: a short log leaves more of the ballast for what is to be kept. */
const CHECKPOINT_WHEN_FULL = { commits: 8, rows: 100 }
/** How long we wait for another program that holds the database. */
const BUSY_MS = 5000

/** Opens a database for writing. `file` is a path, or `:memory:`. */
export function connect(file: string, journal: Journal, ballast: Ballast | null): Connection {
  const db = new DatabaseSync(file, { timeout: BUSY_MS, enableForeignKeyConstraints: true })
  const onDisk = file !== ":memory:"
  db.exec("pragma temp_store = memory")
  db.exec(`pragma journal_mode = ${onDisk ? journal : "memory"}`)
  db.exec("pragma synchronous = full; pragma wal_autocheckpoint = 0")
  const begin = db.prepare("begin immediate")
  const commit = db.prepare("commit")
  const rollback = db.prepare("rollback")
  const totalChanges = db.prepare("select total_changes() as n")
  const checkpoint = db.prepare("pragma wal_checkpoint(passive)")

  let stopped: StoreTrouble | null = null
  let closed = false
  let tellBroken: (trouble: StoreTrouble) => void
  const broken = new Promise<StoreTrouble>((resolve) => {
    tellBroken = resolve
  })
  let commits = 0
  let rowsBefore = 0

  function usable(): void {
    if (stopped) throw stopped
    if (closed) throw new StoreTrouble("closed", `The database ${file} was closed.`)
  }

  /** What the caller is to get: a trouble of the disk in our words, anything else as it is. */
  function fault(error: unknown): unknown {
    const trouble = error instanceof StoreTrouble ? error : troubleOf(error, file)
    if (!trouble) return error
    if (trouble.isFinal && !stopped) {
      stopped = trouble
      tellBroken(trouble)
    }
    return trouble
  }

  function transaction<T>(work: () => T): T {
    begin.run()
    try {
      const result = work()
      commit.run()
      return result
    } catch (error) {
      // A failure of the disk may have ended the transaction already.
      if (db.isTransaction) rollback.run()
      throw error
    }
  }

  /** Throws where the room for recording what comes of a new thing is gone. */
  function needRoom(): void {
    if (!ballast || ballast.held()) return
    try {
      if (ballast.takeUp()) return
    } catch (error) {
      throw fault(error)
    }
    throw new StoreTrouble(
      "disk-full",
      `The disk of ${file} is nearly full: nothing new is sent until there is room. Free some space.`,
    )
  }

  function carryOverInTime(): void {
    if (!onDisk || journal !== "wal") return
    commits += 1
    const due = ballast && !ballast.held() ? CHECKPOINT_WHEN_FULL : CHECKPOINT
    if (commits >= due.commits || changedRows() - rowsBefore >= due.rows) carryOver()
  }

  function changedRows(): number {
    return Number((totalChanges.get() as { n: number }).n)
  }

  function carryOver(): void {
    commits = 0
    rowsBefore = changedRows()
    try {
      checkpoint.get()
    } catch (error) {
      // The transaction is safe in the log, so its caller is not told; a full disk is tried again later.
      fault(error)
    }
  }

  return {
    db,
    broken,
    read(work) {
      usable()
      try {
        return work()
      } catch (error) {
        throw fault(error)
      }
    },
    write(purpose, work) {
      usable()
      if (purpose === "start") needRoom()
      let result: ReturnType<typeof work>
      try {
        result = transaction(work)
      } catch (error) {
        const told = fault(error)
        const full = told instanceof StoreTrouble && told.code === "disk-full"
        if (!full || purpose !== "keep" || !ballast?.giveUp()) throw told
        if (onDisk && journal === "wal") carryOver()
        usable()
        try {
          result = transaction(work)
        } catch (again) {
          throw fault(again)
        }
      }
      carryOverInTime()
      return result
    },
    close() {
      if (closed) return
      closed = true
      // After a failed sync the last close would carry the log into the database although the log may not be on disk:
      // the handle is left to the end of the process, which must follow.
      if (!stopped) db.close()
    },
  }
}
