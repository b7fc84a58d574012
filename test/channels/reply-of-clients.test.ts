import { describe, expect, it } from "vitest"
import { replyOf } from "../../src/channels/reply-of.ts"
import { CLIENTS } from "./reply-of-clients.ts"

const fold = (text: string) => text.replace(/\s+/g, " ").trim()

describe("the new words of a mail from more programs and languages", () => {
  it.each(CLIENTS)("$name", ({ eml, reply }) => {
    const found = replyOf(eml)
    expect({ ...found, reply: fold(found.reply) }).toEqual({
      reply: fold(reply),
      auto: false,
      bounce: false,
      photos: 0,
    })
  })
})
