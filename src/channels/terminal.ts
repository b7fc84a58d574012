import { mkdirSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import type { Channel, Outgoing, SendOutcome } from "../bot/needs.ts"
import type { Instant } from "../values/instant.ts"

/** How a message is shown: plain lines, no colour, so that it reads the same in a pipe. */
export type Terminal = { line(text: string): void }

/** Characters that steer a terminal; a text must not (failure X8). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the very characters to strike out
const CONTROLS = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g

/** Strikes out what would steer a terminal; line breaks stay. */
export function printable(text: string): string {
  return text.replace(CONTROLS, "")
}

/** Prints each text as it would be sent, with its length in segments as `measure` counts it. */
export function terminalTexts(
  terminal: Terminal,
  measure: (text: string) => { units: number; segments: number },
  nameOf: (garden: string, person: string) => string,
): Channel {
  return {
    via: "terminal",
    async send(message: Outgoing): Promise<SendOutcome> {
      const { units, segments } = measure(message.text)
      const parts = segments === 1 ? "1 segment" : `${segments} segments`
      terminal.line("")
      terminal.line(`text to ${printable(nameOf(message.garden, message.person))} (${units} characters, ${parts})`)
      for (const line of printable(message.text).split("\n")) terminal.line(`  ${line}`)
      return { is: "sent", carrierId: null }
    },
    async wasTaken() {
      return { taken: false, carrierId: null }
    },
  }
}

/** Writes each mail as an `.eml` file and prints it, a weekly one by its subject alone. `compose` makes the bytes of the message. */
export function terminalMails(
  terminal: Terminal,
  folder: string,
  compose: (message: Outgoing, now: Instant) => Promise<Buffer>,
  nameOf: (garden: string, person: string) => string,
): Channel {
  return {
    via: "terminal",
    async send(message: Outgoing, now: Instant): Promise<SendOutcome> {
      mkdirSync(folder, { recursive: true })
      const file = join(folder, `${message.key.replace(/[^a-zA-Z0-9-]+/g, "-")}.eml`)
      writeFileSync(file, await compose(message, now))
      terminal.line("")
      terminal.line(`mail to ${printable(nameOf(message.garden, message.person))}: ${printable(message.subject ?? "")}`)
      if (message.kind !== "digest")
        for (const line of printable(message.text).trimEnd().split("\n")) terminal.line(`  ${line}`.trimEnd())
      terminal.line(`  kept as ${file}`)
      return { is: "sent", carrierId: null }
    },
    async wasTaken() {
      return { taken: false, carrierId: null }
    },
  }
}
