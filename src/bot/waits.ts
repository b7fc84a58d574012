import { HOUR_MS, MINUTE_MS } from "../values/instant.ts"

/** How long things are held, waited for and tried: every figure with its reason. */
export const WAITS = {
  /** A message being sent is ours this long: longer than any carrier's own time-out. */
  sendLeaseMs: 2 * MINUTE_MS,
  /** A person is claimed for as long as making one text may take, many times over. */
  personLeaseMs: 30_000,
  /** A reply being applied is ours this long. */
  replyLeaseMs: MINUTE_MS,
  /** A reply that cannot be applied is tried so often; then it stays kept and is shown to the owner. */
  replyAttempts: 5,
  /** Waits after passing failures: doubled each time up to half an hour (failure O1). */
  retryFirstMs: MINUTE_MS,
  retryMostMs: 30 * MINUTE_MS,
  /** The same words from the same person within this time are the same text that came twice (failure D14). */
  sameWordsMs: 2 * MINUTE_MS,
  /** Of a text that nobody can ask about, so much is kept of the time in which it is of use: then it goes again (failure D1). */
  lastChanceMs: 10 * MINUTE_MS,
  /** In these minutes it is asked about so often: the carrier's list may lag behind by a minute. */
  lastAsksMs: 2 * MINUTE_MS,
  /** So long after it was of use it is asked about; then it is given up, and what it told is due again. */
  neverKnownMs: 3 * 24 * HOUR_MS,
  /** When no text has gone out for so long, what is due goes by mail where there is an address (failure O1). */
  mailInsteadMs: 6 * HOUR_MS,
  /** A bare "done" so soon after another, with nothing new said, is the same one (failure D15). */
  sameDoneMs: 10 * MINUTE_MS,
  /** A gap between two ticks from which the bot counts as having been away. */
  awayMs: 20 * HOUR_MS,
  /** A weekly mail later than this is dropped for the next (failure O3). */
  digestLateMs: 3 * 24 * HOUR_MS,
  /** A clock that stands this far before the newest entry of the log is wrong: nothing is sent (failure T17). */
  clockBackMs: 24 * HOUR_MS,
  /** A number that did not answer the text that asks whether it wants any is asked once more after so long. */
  inviteAgainMs: 3 * 24 * HOUR_MS,
  /** A garden being looked after is ours this long; one that fails is tried again after it. */
  gardenLeaseMs: 5 * MINUTE_MS,
  /** The same where an engine hands out the work: tries that fail, with their waits, and a queue before them. */
  gardenJobLeaseMs: 20 * MINUTE_MS,
  /** Whoever was not told so long after a silence that the bot had been away need not hear of it. */
  awayToldMs: 14 * 24 * HOUR_MS,
  /** A garden for which a weekly mail waits is looked after again so soon. */
  lookAgainMs: 10 * MINUTE_MS,
  /** Weather services make their forecasts anew every few hours; so old, it is asked for again. */
  weatherFreshMs: 6 * HOUR_MS,
  /** A service that gives nothing new is not waited for more often than this. */
  weatherAgainMs: HOUR_MS,
  /** Views of so many gardens are kept; others are made again when they are needed. */
  viewsKept: 500,
  /** How many messages and people one tick takes on before it looks at the clock again. */
  perTick: 500,
} as const

/**
 * When to try again after the `attempt`-th failure in a row (1 is the first): doubling from a minute to half an hour,
 * with up to a fifth taken off or added by `spread` (0 to 1), so that many waits do not end at once.
 */
export function retryWait(attempt: number, spread: number): number {
  const base = Math.min(WAITS.retryMostMs, WAITS.retryFirstMs * 2 ** (attempt - 1))
  return Math.round(base * (0.8 + 0.4 * spread))
}
