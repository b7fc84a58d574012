/** Fewer words than this are too common to be told from a reply: "done 1" stands in our own texts too. */
const LEAST_WORDS = 5
/** Of so many mails before, two must end alike. */
const TAILS_KEPT = 3

/** A line that tells how to answer, in capitals, is ours whoever quotes it: "Reply DONE 1, or SNOOZE 1 SAT." */
export function tellsHowToReply(line: string): boolean {
  return /(?:^|[\s.;,:])Reply [A-Z]{2,}\b/.test(line.slice(0, 1000))
}

/**
 * A reply without lines that we sent ourselves: what a program quotes without marking it, however it broke the lines
 * (failure M5). Short lines stay, since the reply words stand in our texts.
 */
export function withoutOurWords(reply: string, sent: readonly string[]): string {
  const ours = sent.map((text) => ` ${words(text).join(" ")} `)
  const lines = reply.split("\n").filter((line) => {
    const said = words(line)
    return said.length < LEAST_WORDS || !ours.some((text) => text.includes(` ${said.join(" ")} `))
  })
  return tidy(lines)
}

/** The last block of a reply, which may be a signature nobody marked; empty where the reply is one block. */
export function tailOf(reply: string): string {
  const cut = reply.lastIndexOf("\n\n")
  return cut < 0 ? "" : reply.slice(cut + 2).trim()
}

/** A reply without its last block, where two of the person's last three mails ended in the same (failure M7). */
export function withoutKnownTail(reply: string, tails: readonly string[]): string {
  const tail = tailOf(reply)
  const isKnown = looksLikeSignature(tail) && tails.slice(-TAILS_KEPT).filter((each) => each === tail).length >= 2
  return isKnown ? reply.slice(0, reply.lastIndexOf("\n\n")).trim() : reply
}

/** Several lines, and no small number in them: "done 1" said at the end of three mails is three times meant. */
function looksLikeSignature(tail: string): boolean {
  return tail.includes("\n") && !/(?:^|[^\d])\d{1,2}(?:[^\d]|$)/.test(tail)
}

/** The tails to remember, with this reply's. */
export function tailsWith(tails: readonly string[], reply: string): string[] {
  return [...tails, tailOf(reply)].slice(-TAILS_KEPT)
}

function words(text: string): string[] {
  return text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "")
}

function tidy(lines: readonly string[]): string {
  return lines
    .join("\n")
    .replace(/\n{3,}/g, "\n\n")
    .trim()
}
