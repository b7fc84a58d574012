import fc from "fast-check"
import { describe, expect, it } from "vitest"
import { isGsm7 } from "../../src/wording/gsm7.ts"
import { plainLetters } from "../../src/wording/plain-letters.ts"

describe("letters that short messages know", () => {
  const table: [string, string][] = [
    ["Don’t dig “it” in – yet…", `Don't dig "it" in - yet...`],
    ["‹a› «b» „c“ ‚d’", `'a' "b" "c" 'd'`],
    ["12°C, 54 °F, a 90° bend, °", "12 C, 54 F, a 90 deg bend, deg"],
    ["½ oz, 1½ oz, 2 ¼ lb, 3⅔", "1/2 oz, 1 1/2 oz, 2 1/4 lb, 3 2/3"],
    ["3 × 8 ft, 5 m², −9 C, 20 µm", "3 x 8 ft, 5 m2, -9 C, 20 um"],
    ["naïve façade à São João", "naive facade à Sao Joao"],
    ["Łódź, żółć, Gdańsk", "Lodz, zolc, Gdansk"],
    ["İstanbul, ışık, ağaç, Şişli", "Istanbul, isik, agac, Sisli"],
    ["Đakovo, Þór, œuf, ﬁg", "Dakovo, Thor, oeuf, fig"],
    ["e\u0301tude, n\u0303, A\u030a", "étude, ñ, Å"],
    ["\u2126 and \u212b", "Ω and Å"],
    ["a\u00a0b\u2009c\u3000d\te", "a b c d e"],
    ["soft\u00adhyphen zero\u200bwidth \ufeffmark \u202eleft", "softhyphen zerowidth mark left"],
    ["up 🌱, done 👍🏽 by 👩‍🌾!", "up, done by!"],
    ["1️⃣ cut 🇵🇱", "1 cut"],
    ["one\r\ntwo\u2028three", "one\ntwo\nthree"],
    ["`quoted´ • item", "'quoted' - item"],
    ["ΑΘΗΝΑ 5€ [x] {y}", "AΘHNA 5€ [x] {y}"],
    ["cut \ud83c bed", "cut  bed"],
  ]

  it.each(table)("%j is %j", (text, plain) => {
    expect(plainLetters(text)).toBe(plain)
  })

  it("leaves a word whole whose letters have no plain form", () => {
    expect(plainLetters("Грядка у – дома")).toBe("Грядка у - дома")
    expect(plainLetters("Δοκιμή’s café")).toBe("Δοκιμή’s café")
    expect(plainLetters("畑 is up")).toBe("畑 is up")
  })

  it("changes nothing that is plain already, and twice is once", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 60 }), (text) => {
        const once = plainLetters(text)
        expect(plainLetters(once)).toBe(once)
        expect(once.isWellFormed()).toBe(true)
      }),
      { numRuns: 2000, seed: 7 },
    )
    fc.assert(
      fc.property(fc.string({ maxLength: 60 }), (text) => {
        if (isGsm7(text) && !/[\r\f]/.test(text)) expect(plainLetters(text)).toBe(text)
      }),
      { numRuns: 2000, seed: 7 },
    )
  })
})
