import type { ReplyContext } from "./context.ts"
import { resolve } from "./pending.ts"
import { type Reading, read } from "./read.ts"

/**
 * What a reply means in this garden on this day. Pure: the same text and context give the same reading, in time linear in
 * the length of the text (of which the first 6,000 characters are read). Never throws on any text.
 */
export function understand(text: string, context: ReplyContext): Reading {
  const answered = context.pending ? resolve(context.pending, text, context) : null
  if (answered) return answered
  return read(text, context, null)
}
