import { describe, expect, it } from "vitest"
import {
  inviteText,
  stillYouText,
  stopText,
  strangerMessage,
  WRONG_NUMBER_TEXT,
  whichGardenText,
  whichPhotoText,
} from "../../src/wording/answer-service.ts"
import { checkText } from "../../src/wording/check-text.ts"
import { measure } from "../../src/wording/segments.ts"
import { aBed, aGarden, aPerson } from "../given.ts"
import { answerOf } from "./given-answer.ts"

describe("texts about the service itself", () => {
  it("invite in one segment with the name, the number of texts, the ways out and the price", () => {
    const text = inviteText({ name: "Long Acre" })
    expect(measure(text)).toEqual({ encoding: "gsm7", units: 155, segments: 1 })
    for (const part of ["Ryebell", "Long Acre", "2 texts a week", "JOIN", "HELP", "STOP", "rates may apply"])
      expect(text).toContain(part)
  })

  it("help and the hint to a note show how to write with beds that the person has", () => {
    const garden = aGarden({
      beds: [
        aBed({ id: "long", name: "The bed along the southern wall" }),
        aBed({ id: "box", name: "Box" }),
        aBed({ id: "tub", name: "Tub" }),
      ],
    })
    expect(answerOf({ garden, acts: [{ act: "help" }] })).toContain("bloom on Box, why Tub.")
    expect(answerOf({ garden, note: true })).toContain("Such as: cut Box, or bloom on Tub.")
    const minding = aPerson({ minds: ["tub"] })
    expect(answerOf({ garden, person: minding, note: true })).toContain("Such as: cut Tub, or bloom on Tub.")
  })

  it("help names the service, how to write, and how to end it", () => {
    const text = answerOf({ acts: [{ act: "help" }] }) as string
    expect(text).toContain("Long Acre")
    expect(text).toContain("STOP")
    expect(checkText(text, { carrierWords: true, several: true })).toEqual([])
  })

  it("stop by mail leaves texts alone and says so (P15)", () => {
    expect(stopText(aPerson(), "mail")).toContain("Texts still come")
    expect(stopText(aPerson({ phone: null, by: "mail" }), "mail")).not.toContain("Texts")
    expect(answerOf({ acts: [{ act: "stop" }] })).toContain("no more texts to this phone")
  })

  it("all keep to one segment and the rules", () => {
    for (const text of [
      WRONG_NUMBER_TEXT,
      strangerMessage("text").text,
      whichGardenText(["Long Acre", "Hill Lots"]),
      whichPhotoText(["South bed"]),
    ])
      expect(checkText(text, { replies: "none" }), text).toEqual([])
    for (const text of [
      stillYouText(aPerson(), aGarden()),
      answerOf({ acts: [{ act: "pause", until: null }] }) as string,
    ])
      expect(checkText(text), text).toEqual([])
    for (const channel of ["text", "mail"] as const)
      expect(checkText(stopText(aPerson(), channel), { carrierWords: true }), channel).toEqual([])
  })

  it("a join is welcomed by name", () => {
    expect(answerOf({ acts: [{ act: "join", word: "acre" }] })).toContain("You are in, Ines: reminders for Long Acre")
  })
})
