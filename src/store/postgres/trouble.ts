import { StoreTrouble } from "../trouble.ts"

/** Errors of the network below the connection. */
const NETWORK = new Set([
  "ECONNRESET",
  "ECONNREFUSED",
  "EPIPE",
  "ETIMEDOUT",
  "EHOSTUNREACH",
  "ENETUNREACH",
  "ENOTFOUND",
  "EAI_AGAIN",
])
/** What the driver says without a code where a connection ended under a statement, or none could be had. */
const DRIVER =
  /Connection terminated|connection is closed|Client has encountered|Query read timeout|timeout exceeded when trying to connect|timeout expired/i

/** Was the connection lost, so that nobody knows what became of the statement? */
export function connectionLost(error: unknown): boolean {
  if (!(error instanceof Error)) return false
  const code = codeOf(error)
  // Class 08: connection exceptions; 57P01 to 57P03: the server stops or starts; 53300: no connection is free.
  if (code !== null) return NETWORK.has(code) || /^(08...|57P0[123]|53300)$/.test(code)
  return DRIVER.test(error.message)
}

/** The trouble behind an error of the database, in our words; null where it is a defect of ours. */
export function troubleIn(error: unknown, place: string): StoreTrouble | null {
  if (error instanceof StoreTrouble) return error
  if (!(error instanceof Error)) return null
  const cause = { cause: error }
  const why = error.message
  if (connectionLost(error))
    return new StoreTrouble(
      "away",
      `The database ${place} cannot be reached (${why}). Nothing is lost: what is due is taken up when it is back. Look at the server and DATABASE_URL.`,
      cause,
    )
  switch (codeOf(error)) {
    case "28000":
    case "28P01":
      return new StoreTrouble(
        "not-writable",
        `The database ${place} does not let us in (${why}). Check user and password in DATABASE_URL.`,
        cause,
      )
    case "3D000":
      return new StoreTrouble("not-writable", `${why} on the server of ${place}. Make it first: createdb NAME.`, cause)
    case "42501":
      return new StoreTrouble(
        "not-writable",
        `The database ${place} does not let this user make or write its tables (${why}). Give it the right to create in that database.`,
        cause,
      )
    case "25006":
      return new StoreTrouble(
        "away",
        `The database ${place} only lets us read now (${why}), as a standby does. What is due is taken up when it can be written.`,
        cause,
      )
    case "53100":
      return new StoreTrouble(
        "disk-full",
        `No room is left on the disk of the database ${place}: nothing new is sent until there is. Free some space.`,
        cause,
      )
    case "57014":
    case "55P03":
      return new StoreTrouble("busy", `The database ${place} was too slow (${why}); the work is taken up again.`, cause)
    case "XX001":
    case "XX002":
      return new StoreTrouble("io", `The database ${place} is damaged (${why}). Look at the server's log.`, cause)
    default:
      return null
  }
}

function codeOf(error: Error): string | null {
  return "code" in error && typeof error.code === "string" ? error.code : null
}
