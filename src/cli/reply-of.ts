import { readFileSync, statSync } from "node:fs"
import { z } from "zod"
import { MOST_MAIL_BYTES, replyOf } from "../channels/reply-of.ts"
import type { Command } from "./command.ts"
import { answerLines } from "./lines.ts"
import { readOptions } from "./options.ts"

const lineSchema = z.looseObject({ id: z.union([z.string(), z.number()]), file: z.string().min(1) })

/** How a mail is read: its new words, and whether a machine wrote it. */
export const replyOfCommand: Command = {
  name: "reply-of",
  summary: "the new words of mails, without quotes and signatures",
  usage: `usage: ryebell reply-of --batch

Reads JSON Lines {"id", "file"} from standard input, where "file" is the path of a mail (.eml), and answers each with
{"id", "reply", "auto", "bounce", "photos"}.
"reply" is the new words only; "auto" is true for automatic answers, "bounce" for delivery reports.`,
  async run(args, world) {
    readOptions(args, { batch: "flag" })
    return answerLines(world, (line) => {
      const { id, file } = readLine(line)
      return { id, ...replyOf(bytesOf(file)) }
    })
  },
}

function readLine(line: unknown): z.infer<typeof lineSchema> {
  const found = lineSchema.safeParse(line)
  if (found.success) return found.data
  const first = found.error.issues[0]
  throw new TypeError(`${first?.path.join(".") || "line"}: ${first?.message ?? "wrong"}; expected {"id", "file"}`)
}

function bytesOf(file: string): Buffer {
  try {
    const { size } = statSync(file)
    if (size > MOST_MAIL_BYTES)
      throw new RangeError(`${file}: ${size} bytes, expected a mail of at most ${MOST_MAIL_BYTES}`)
    return readFileSync(file)
  } catch (error) {
    if (error instanceof RangeError) throw error
    const code = error instanceof Error && "code" in error ? String(error.code) : "unreadable"
    throw new TypeError(`${file}: cannot be read (${code}); expected the path of an .eml file`)
  }
}
