import { createInterface } from "node:readline"
import type { Readable, Writable } from "node:stream"
import { widthOf, wrapped } from "./wrap.ts"

/** A person to talk to: `ask` answers null where their words have ended. */
export type Talk = { ask(question: string): Promise<string | null>; say(text: string): void }

export type OpenTalk = Talk & { close(): void }

/** Columns left for the answer behind a question. */
const ROOM_TO_TYPE = 20

/**
 * A talk over two streams, at a terminal or through a pipe. Lines that come before their question wait for it; Ctrl-C,
 * Ctrl-D and the end of a pipe are the end of the person's words.
 */
export function openTalk(
  input: Readable & { isTTY?: boolean },
  output: Writable & { isTTY?: boolean; columns?: number },
): OpenTalk {
  const isTerminal = input.isTTY === true && output.isTTY === true
  const reader = createInterface({ input, ...(isTerminal ? { output } : {}), terminal: isTerminal })
  const lines: string[] = []
  let waiting: ((line: string | null) => void) | null = null
  let hasEnded = false
  const hand = (line: string | null) => {
    const answer = waiting
    waiting = null
    answer?.(line)
  }
  reader.on("line", (line) => {
    if (waiting) hand(line)
    else lines.push(line)
  })
  reader.on("close", () => {
    hasEnded = true
    hand(null)
  })
  reader.on("SIGINT", () => {
    output.write("\n")
    reader.close()
  })
  return {
    say: (text) => void output.write(`${wrapped(text, widthOf(output))}\n`),
    ask(question) {
      if (isTerminal && !hasEnded) {
        // Only its last line is the prompt: the reader breaks a longer one in the middle of a word.
        const lines = wrapped(question, widthOf(output) - ROOM_TO_TYPE).split("\n")
        for (const line of lines.slice(0, -1)) output.write(`${line}\n`)
        reader.setPrompt(`${lines.at(-1)!.trimEnd()} `)
        reader.prompt()
      } else output.write(question)
      const before = lines.shift()
      const answer = before !== undefined ? before : hasEnded ? null : undefined
      // Through a pipe nobody sees what was typed: the line is ended for them.
      const shown = (line: string | null) => {
        if (!isTerminal) output.write(line === null ? "\n" : `${line}\n`)
        return line
      }
      if (answer !== undefined) return Promise.resolve(shown(answer))
      return new Promise<string | null>((resolve) => {
        waiting = resolve
      }).then(shown)
    },
    close: () => reader.close(),
  }
}
