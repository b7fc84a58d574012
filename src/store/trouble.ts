import { CouldNot } from "../values/problem.ts"

/**
 * What can be wrong with a store:
 * - `held` another process writes in this folder; `busy` another program holds the database for longer than we wait
 * - `newer` the file is of a newer program; `older` of an older one, where it is only read; `foreign` it is not ours
 * - `damaged` the file does not hold what was written; `io` the disk failed under us: nothing is written any more
 * - `away` the database server cannot be reached for now; what is due waits
 * - `disk-full` no room; `not-writable` rights or a read-only mount; `closed` the store was closed
 */
export type TroubleCode =
  | "held"
  | "busy"
  | "newer"
  | "older"
  | "foreign"
  | "damaged"
  | "io"
  | "away"
  | "disk-full"
  | "not-writable"
  | "closed"

/** A store that cannot do its work; the message says what to do next. */
export class StoreTrouble extends CouldNot {
  readonly code: TroubleCode

  constructor(code: TroubleCode, message: string, options?: ErrorOptions) {
    super(message, options)
    this.name = "StoreTrouble"
    this.code = code
  }

  /** After these nothing may be written any more until a new start. */
  get isFinal(): boolean {
    return this.code === "io" || this.code === "damaged" || this.code === "not-writable"
  }
}

/** The trouble of a file that does not hold what was written. */
export function damaged(file: string, detail: string, options?: ErrorOptions): StoreTrouble {
  return new StoreTrouble(
    "damaged",
    `The database ${file} is damaged (${detail}). Nothing in it was changed. Keep it: move its folder aside, make an ` +
      "empty one, and bring the last backup back with `ryebell restore FILE`.",
    options,
  )
}

/** The trouble behind an error of the database engine; null where it is none of the disk's (a defect of ours). */
export function troubleOf(error: unknown, file: string): StoreTrouble | null {
  if (!isSqliteError(error)) return null
  const why = error.message
  const cause = { cause: error }
  if (error.errcode === SHARED_MEMORY_FULL) return full(file, cause)
  switch (error.errcode & 0xff) {
    case 5:
    case 6: {
      const message = `Another program has held ${file} for longer than we wait (${why}). Close it (a database shell, perhaps) and try again.`
      return new StoreTrouble("busy", message, cause)
    }
    case 8:
    case 14: {
      const message = `The database ${file} cannot be written (${why}). Give the user that runs Ryebell the right to write in its folder.`
      return new StoreTrouble("not-writable", message, cause)
    }
    case 10: {
      const message =
        `The disk failed while ${file} was read or written (${why}). Nothing is written or sent any more. ` +
        "Look at the disk and the system's log, make a backup, then start again."
      return new StoreTrouble("io", message, cause)
    }
    case 11:
    case 26:
      return damaged(file, why, cause)
    case 13:
      return full(file, cause)
    default:
      return null
  }
}

/** The engine's shared index could not grow (SQLITE_IOERR_SHMSIZE): no room, although it is told as an I/O error. */
const SHARED_MEMORY_FULL = 4874

type SqliteError = Error & { code: "ERR_SQLITE_ERROR"; errcode: number }

function isSqliteError(error: unknown): error is SqliteError {
  return error instanceof Error && "code" in error && error.code === "ERR_SQLITE_ERROR" && "errcode" in error
}

function full(file: string, options: ErrorOptions): StoreTrouble {
  const message = `No room is left on the disk of ${file}: nothing new is sent until there is. Free some space; nothing needs a restart.`
  return new StoreTrouble("disk-full", message, options)
}
