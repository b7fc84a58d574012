import { clearLine, createInterface, cursorTo } from "node:readline"
import type { Readable, Writable } from "node:stream"

/** Lines that a person types while the bot prints: what is printed never tears what is being typed. */
export type Prompt = { line(text: string): void; close(): void }

/**
 * Reads replies from `input` and prints on `output`. At a terminal there is a prompt, and the end of input (Ctrl-D) is the
 * wish to leave; from a pipe or a file the end of input only ends the replies. Works without any input too.
 */
export function openPrompt(
  input: Readable & { isTTY?: boolean },
  output: Writable & { isTTY?: boolean },
  onLine: (text: string) => void,
  onLeave: () => void,
): Prompt {
  const atTerminal = input.isTTY === true && output.isTTY === true
  const reader = createInterface({ input, ...(atTerminal ? { output, prompt: "reply> " } : {}), terminal: atTerminal })
  reader.on("line", (text) => {
    if (text.trim() !== "") onLine(text)
    if (atTerminal) reader.prompt()
  })
  reader.on("close", () => {
    if (atTerminal) onLeave()
  })
  if (atTerminal) {
    reader.on("SIGINT", onLeave)
    reader.prompt()
  }
  return {
    line(text) {
      if (atTerminal) {
        clearLine(output, 0)
        cursorTo(output, 0)
      }
      output.write(`${text}\n`)
      if (atTerminal) reader.prompt(true)
    },
    close() {
      reader.removeAllListeners("close")
      reader.close()
    },
  }
}
