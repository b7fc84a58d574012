import { nearestWord } from "../values/nearest.ts"
import type { Read } from "./read-words.ts"

/** Words that mean something else in a text: none of them lets anybody in. */
const TAKEN = new Set(
  (
    "stop stopall unsubscribe cancel quit revoke optout unstop start help info join resume pause undo done snooze skip " +
    "boot bloom seed cut regrowth none sowed planted patchy next much invite share link mail email phone status"
  ).split(" "),
)
const EXPECTED = "one word of 4 to 20 letters and digits that means nothing else here, such as rootwork"

/** Reads the word by which people join: a single one that no reply has for another purpose, in any case. */
export function readInvite(text: string): Read<string> {
  const word = text.trim().toLowerCase()
  if (!/^[a-z][a-z0-9]{3,19}$/.test(word)) return { wrong: "not-an-invite", expected: EXPECTED }
  if (TAKEN.has(word)) return { wrong: "invite-taken", expected: EXPECTED }
  const near = nearestWord(word, [...TAKEN])
  // A slip of the thumb must not make a stop of a joining, or the other way round.
  return near !== null && near !== undefined && Math.abs(near.length - word.length) < 2 && isSlip(word, near)
    ? { wrong: "invite-taken", expected: `${EXPECTED}; ${word} is one slip from ${near}` }
    : { value: word }
}

/** Do two words differ by one letter: another, one more or one less? */
function isSlip(a: string, b: string): boolean {
  const [short, long] = a.length <= b.length ? [a, b] : [b, a]
  let at = 0
  while (at < short.length && short[at] === long[at]) at += 1
  return short.slice(a.length === b.length ? at + 1 : at) === long.slice(at + 1)
}
