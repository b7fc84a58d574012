import { existsSync, readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { gsm7Units } from "../../src/wording/gsm7.ts"
import { measure } from "../../src/wording/segments.ts"

/** Cases that another program reckoned, where the reference folder lies beside the checkout. */
const reference = new URL("../../../shared/reference/gsm7-cases.json", import.meta.url)

type Case = { id: string; text: string; encoding: string; units: number; segments: number }

describe("the 7-bit alphabet, 3GPP TS 23.038 clause 6.2.1 (from memory)", () => {
  it("has 127 characters without the escape, and ten in the extension table", () => {
    const all = Array.from({ length: 0x10000 }, (_, code) => String.fromCharCode(code)).map((letter) =>
      gsm7Units(letter),
    )
    expect(all.filter((units) => units === 1)).toHaveLength(127)
    expect(all.filter((units) => units === 2)).toHaveLength(10)
  })

  it("holds the letters that national tables often get wrong", () => {
    for (const letter of "@£$¥èéùìòÇØøÅåΔΦΓΛΩΠΨΣΘΞÆæßÉ¤¡ÄÖÑÜ§¿äöñüà") expect(gsm7Units(letter), letter).toBe(1)
    for (const letter of "çáíóúêôëïÀÈ`°½–’\t") expect(gsm7Units(letter), letter).toBeUndefined()
    for (const letter of "^{}\\[~]|€\f") expect(gsm7Units(letter), letter).toBe(2)
  })
})

/** Lengths by 3GPP TS 23.040 (from memory): 160 and 153 units of 7 bits, 70 and 67 of UCS-2. */
describe("segments", () => {
  const a = "a"
  const o = "ő"
  const table: [string, string, number, number][] = [
    ["", "gsm7", 0, 0],
    [a.repeat(160), "gsm7", 160, 1],
    [a.repeat(161), "gsm7", 161, 2],
    [a.repeat(306), "gsm7", 306, 2],
    [a.repeat(307), "gsm7", 307, 3],
    [`${a.repeat(158)}€`, "gsm7", 160, 1],
    [`${a.repeat(159)}€`, "gsm7", 161, 2],
    [`${a.repeat(152)}€${a.repeat(20)}`, "gsm7", 174, 2],
    [`${a.repeat(152)}€${a.repeat(152)}`, "gsm7", 306, 3],
    [o.repeat(70), "ucs2", 70, 1],
    [o.repeat(71), "ucs2", 71, 2],
    [o.repeat(134), "ucs2", 134, 2],
    [o.repeat(135), "ucs2", 135, 3],
    [`${o.repeat(66)}🌱${o.repeat(10)}`, "ucs2", 78, 2],
    [`${o.repeat(66)}🌱${o.repeat(66)}`, "ucs2", 134, 3],
    ["Soil 12°C", "ucs2", 9, 1],
    ["Soil 12 C", "gsm7", 9, 1],
    ["a\r\nb", "gsm7", 4, 1],
    ["e\u0301", "ucs2", 2, 1],
    ["👩‍🌾", "ucs2", 5, 1],
    ["cut \ud83c bed", "ucs2", 9, 1],
  ]

  it.each(table)("%j", (text, encoding, units, segments) => {
    expect(measure(text)).toEqual({ encoding, units, segments })
  })

  it("are packed so that no escape pair is split, wherever it stands", () => {
    for (let before = 140; before < 170; before += 1) {
      const text = `${a.repeat(before)}€${a.repeat(160)}`
      // Walked by hand: the pair moves on whole where only one unit is left in its segment.
      const lost = before % 153 === 152 ? 1 : 0
      expect(measure(text).segments, String(before)).toBe(Math.ceil((before + 2 + 160 + lost) / 153))
    }
  })

  it.skipIf(!existsSync(reference))(
    "agree with every case of the reference folder (skipped where it is absent)",
    () => {
      const { cases } = JSON.parse(readFileSync(reference, "utf8")) as { cases: Case[] }
      expect(cases.length).toBeGreaterThan(50)
      for (const { id, text, encoding, units, segments } of cases)
        expect({ id, ...measure(text) }).toEqual({ id, encoding, units, segments })
    },
  )
})
