import { describe, expect, it } from "vitest"
import { readInvite } from "../../src/garden/invite.ts"

describe("the word by which people join", () => {
  it("is one word of letters and digits, in any case", () => {
    expect(readInvite(" RootWork ")).toEqual({ value: "rootwork" })
    expect(readInvite("plot2026")).toEqual({ value: "plot2026" })
    for (const word of ["abc", "two words", "2nd-plot", "ä".repeat(5), "a".repeat(21)])
      expect(readInvite(word), word).toMatchObject({ wrong: "not-an-invite" })
  })

  it("is none that means something else in a text", () => {
    for (const word of ["stop", "JOIN", "bloom"])
      expect(readInvite(word), word).toMatchObject({ wrong: "invite-taken" })
  })

  it("is none that one slip of the thumb makes into such a word: another letter, one more or one less", () => {
    for (const [word, near] of [
      ["stob", "stop"],
      ["stoop", "stop"],
      ["plante", "planted"],
      ["sskip", "skip"],
    ] as const) {
      const read = readInvite(word)
      expect(read, word).toMatchObject({ wrong: "invite-taken" })
      expect("expected" in read && read.expected).toContain(`${word} is one slip from ${near}`)
    }
    for (const word of ["steps", "plant", "skipper"]) expect(readInvite(word), word).toEqual({ value: word })
  })
})
