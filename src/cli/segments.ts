import { z } from "zod"
import { plainLetters } from "../wording/plain-letters.ts"
import { measure } from "../wording/segments.ts"
import type { Command } from "./command.ts"
import { answerLines } from "./lines.ts"
import { readOptions } from "./options.ts"

const lineSchema = z.looseObject({
  id: z.union([z.string(), z.number()]),
  text: z.string(),
  exact: z.boolean().optional(),
})

/** How a text would travel: what is sent after transliteration, its encoding, units and segments. */
export const segments: Command = {
  name: "segments",
  summary: "how texts are encoded and how many segments they take",
  usage: `usage: ryebell segments --batch

Reads JSON Lines {"id", "text", "exact"?} from standard input and answers each with
{"id", "sent", "encoding": "gsm7" or "ucs2", "units", "segments"}.
"sent" is the text in letters that short messages know; "exact": true leaves it as it is.`,
  async run(args, world) {
    readOptions(args, { batch: "flag" })
    return answerLines(world, (line) => {
      const { id, text, exact } = readLine(line)
      const sent = exact ? text : plainLetters(text)
      return { id, sent, ...measure(sent) }
    })
  },
}

function readLine(line: unknown): z.infer<typeof lineSchema> {
  const found = lineSchema.safeParse(line)
  if (found.success) return found.data
  const first = found.error.issues[0]
  throw new TypeError(
    `${first?.path.join(".") || "line"}: ${first?.message ?? "wrong"}; expected {"id", "text", "exact"?}`,
  )
}
