import { existsSync, readdirSync, readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { replyOf } from "../../src/channels/reply-of.ts"
import { SAMPLES } from "./reply-of-samples.ts"

/** White space folds when replies are compared. */
const fold = (text: string) => text.replace(/\s+/g, " ").trim()

describe("the new words of a mail", () => {
  it.each(SAMPLES)("$name", ({ eml, reply, auto = false, bounce = false, photos = 0 }) => {
    const found = replyOf(eml)
    expect({ ...found, reply: fold(found.reply) }).toEqual({ reply: fold(reply), auto, bounce, photos })
  })
})

/** Samples made by others, beside the checkout; they stay there. */
const folder = new URL("../../../shared/reference/mail-samples/", import.meta.url).pathname

describe.runIf(existsSync(folder))(
  "samples of others (skipped where the reference folder is not beside the checkout)",
  () => {
    const names = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith(".eml")) : []
    it.each(names)("%s", (name) => {
      const expected: Record<string, unknown> = JSON.parse(
        readFileSync(`${folder}${name.replace(/eml$/, "expected.json")}`, "utf8"),
      )
      const found = replyOf(readFileSync(folder + name))
      const asked = Object.fromEntries(Object.keys(expected).map((key) => [key, found[key as keyof typeof found]]))
      expect({ ...asked, reply: fold(found.reply) }).toEqual({ ...expected, reply: fold(String(expected.reply)) })
    })
  },
)
