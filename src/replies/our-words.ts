/** Our own texts, copied or quoted back: "1) South bed can be cut ... Reply DONE 1, or SNOOZE 1 SAT." */

/** We tell how to answer with a word in capitals. */
const CALL = /(?:^|[\s"'(>])Reply [A-Z]{2,}\b/
/** A reminder's line begins with its number and a bracket. */
const NUMBERED = /^[\s>"']*\d{1,2}\) \S+ \S/

/**
 * What is left of a text without the lines of ours in it. On the line that tells how to answer, all up to the end of that
 * sentence is ours. The text itself where it holds nothing of ours; empty where nothing else is left.
 */
export function withoutOurLines(text: string): string {
  if (!CALL.test(text)) return text
  return text
    .split("\n")
    .flatMap((line) => {
      const call = CALL.exec(line)
      if (call === null) return NUMBERED.test(line) ? [] : [line]
      const behind = line.slice(call.index)
      const end = /[.!?](?:\s|["']?$)/.exec(behind)
      const rest = end ? behind.slice(end.index + 1).replace(/^["'\s]+/, "") : ""
      return CALL.test(rest) || rest === "" ? [] : [rest]
    })
    .join("\n")
}
