/** The carrier's words on a message, in the order in which they may follow each other. */
const WAY = ["scheduled", "queued", "accepted", "sending", "sent", "delivered"]
/** Words after which nothing follows; `delivered` is the good end of the way. */
const ENDS = ["delivered", "failed", "undelivered", "canceled"]

/**
 * The words that a carrier's word may replace: callbacks come in any order, and only a step forward counts. Empty where
 * the word is not known: then nothing moves.
 */
export function wordsBefore(fate: string): string[] {
  if (ENDS.includes(fate)) return WAY.filter((word) => !ENDS.includes(word))
  const rank = WAY.indexOf(fate)
  return rank < 0 ? [] : WAY.slice(0, rank)
}

/** Is it a word that a message's fate can be? */
export function isFate(fate: string): boolean {
  return WAY.includes(fate) || ENDS.includes(fate)
}
