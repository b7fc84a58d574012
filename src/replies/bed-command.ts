import type { ReplyBed } from "./context.ts"
import { folded } from "./folded.ts"

/** Words that add a bed (`rest`: what is told of it) or leave one out (`bed`: its id, null where none of that name is known). */
export type BedCommand = { is: "add"; rest: string } | { is: "drop"; bed: string | null }

const PLEASE = String.raw`^\W*(?:please\s+|pls\s+|can you\s+|could you\s+|i want to\s+|i(?:'d| would) like to\s+)?`
const ADD = new RegExp(
  String.raw`${PLEASE}(?:add\s+(?:(?:a|one|another|one more)\s+)?(?:new\s+)?beds?\b|new\s+bed\s*(?=:|$))[\s:,.-]*(?:(?:called|named)\s+)?(.*)$`,
  "is",
)
/** "add north bed, 4x8": only with two sides behind it, since much else is added to beds. */
const ADD_NAMED = new RegExp(
  String.raw`${PLEASE}add\s+(?:(?:the|a|my)\s+)?((?:(?!to\b|on\b|in\b|of\b|for\b|from\b|into\b|onto\b)[\p{L}\p{N}'-]+\s+){1,3}bed)\b[\s,:-]+(\d.*)$`,
  "isu",
)
const DROP = new RegExp(String.raw`${PLEASE}(?:drop|remove|delete|leave\s+out)\s+(?:(?:the|my)\s+)?(.+)$`, "is")

/**
 * Reads a text that changes which beds there are; null: it does not. A bed is left out only where it is named whole and the
 * text says nothing else, since "remove the rye from the north bed" is about the rye.
 */
export function readBedCommand(
  text: string,
  beds: readonly Pick<ReplyBed, "id" | "name" | "also">[],
): BedCommand | null {
  const added = ADD.exec(text)
  if (added) return { is: "add", rest: (added[1] ?? "").trim() }
  const withName = ADD_NAMED.exec(text)
  if (withName && /\d\s*(?:x|×|\*|by)\s*\d|\d\s*(?:sq|m2|m²)/i.test(withName[2] ?? ""))
    return { is: "add", rest: `${withName[1]}, ${withName[2]}` }
  const dropped = DROP.exec(text)?.[1]
  if (dropped === undefined) return null
  const said = folded(dropped)
  if (!/\bbeds?\b/.test(said)) return null
  const found = beds.filter((bed) =>
    [bed.id, bed.name, ...(bed.also ?? [])].some((name) => plain(folded(name)) === plain(said) && plain(said) !== ""),
  )
  if (found.length === 1) return { is: "drop", bed: found[0]?.id ?? null }
  return /^beds?\b/.test(said) ? { is: "drop", bed: null } : null
}

/** A bed's name with or without the word bed. */
function plain(name: string): string {
  return name.replace(/^bed | bed$/g, "").trim()
}
