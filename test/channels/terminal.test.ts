import { mkdtempSync, readdirSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterEach, beforeEach, describe, expect, it } from "vitest"
import type { Outgoing, OutgoingKind } from "../../src/bot/needs.ts"
import { terminalMails } from "../../src/channels/terminal.ts"
import { at } from "../given.ts"

describe("a mail at the terminal", () => {
  let folder: string
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "ryebell-terminal-"))
  })
  afterEach(() => rmSync(folder, { recursive: true }))

  async function printed(kind: OutgoingKind): Promise<string> {
    const lines: string[] = []
    const channel = terminalMails(
      { line: (text) => void lines.push(text) },
      folder,
      async () => Buffer.from("mail"),
      () => "Hans",
    )
    const message = {
      key: "nudge:1",
      garden: "acre",
      person: "hans",
      kind,
      subject: "Cut Box",
      text: "Box can be cut.\n\nSTOP ends it.\n",
    }
    await channel.send(message as Outgoing, at("2026-05-06 08:00"))
    return lines.join("\n")
  }

  it("is shown whole and kept as a file, so that nobody has to open one to read a reminder", async () => {
    const text = await printed("nudge")
    expect(text).toContain("mail to Hans: Cut Box\n  Box can be cut.\n\n  STOP ends it.\n  kept as ")
    expect(readdirSync(folder)).toEqual(["nudge-1.eml"])
  })

  it("is named by its subject where it is the long weekly one", async () => {
    expect(await printed("digest")).not.toContain("Box can be cut.")
  })
})
