import { describe, expect, it } from "vitest"
import { callingCodeOf, mayText } from "../../src/channels/sms-numbers.ts"

/** Numbers made up, or of ranges kept for stories (555-01xx; Ofcom's numbers for drama), so that nobody's phone is named. */
const OPEN = { countries: ["1"] }
const EUROPE = { countries: ["44", "49", "33", "31", "39", "46"] }
const may = (number: string, open = OPEN) => mayText(number, open) === "yes"

describe("numbers that are never texted, whatever countries are open (X10)", () => {
  const everywhere = {
    countries: [
      "1",
      "44",
      "49",
      "33",
      "31",
      "32",
      "34",
      "39",
      "41",
      "43",
      "45",
      "46",
      "47",
      "48",
      "61",
      "64",
      "27",
      "7",
      "81",
      "358",
      "881",
      "882",
      "883",
      "870",
      "979",
      "878",
      "888",
      "800",
      "808",
    ],
  }
  const never = [
    "+19005550123",
    "+19765550123",
    "+12129765550",
    "+15005550123",
    "+15215550123",
    "+15225550123",
    "+15335550123",
    "+15445550123",
    "+15665550123",
    "+15775550123",
    "+15885550123",
    "+16005550123",
    "+17005550123",
    "+17105550123",
    "+870773111234",
    "+871123456789",
    "+872123456789",
    "+873123456789",
    "+874123456789",
    "+881612345678",
    "+881812345678",
    "+88213300000",
    "+882161234567",
    "+883510012345",
    "+878101234567",
    "+888123456789",
    "+979112345678",
    "+80012345678",
    "+80812345678",
    "+447012345678",
    "+449012345678",
    "+449112345678",
    "+449812345678",
    "+448712345678",
    "+448431234567",
    "+33891234567",
    "+33899123456",
    "+31900123456",
    "+31906123456",
    "+31909123456",
    "+3290012345",
    "+34803123456",
    "+34806123456",
    "+34905123456",
    "+39892123456",
    "+39899123456",
    "+41900123456",
    "+41906123456",
    "+43900123456",
    "+43930123456",
    "+4590123456",
    "+46900123456",
    "+469391234567",
    "+469441234567",
    "+4782912345",
    "+48701234567",
    "+491371234567",
    "+491801234567",
    "+499001234567",
    "+497001234567",
    "+61190012345",
    "+611300123456",
    "+64900123456",
    "+27861234567",
    "+78091234567",
    "+81990123456",
    "+35860012345",
    "+35870012345",
  ]

  it(`${never.length} of them`, () => {
    expect(never.length).toBeGreaterThanOrEqual(60)
    expect(never.filter((number) => may(number, everywhere))).toEqual([])
  })
})

describe("numbers of countries", () => {
  it("are texted where the country is open, and only there", () => {
    expect(["+17175550142", "+14165550123", "+17875550123"].every((number) => may(number))).toBe(true)
    expect(["+447700900123", "+4915112345678", "+5215512345678"].some((number) => may(number))).toBe(false)
    expect(
      ["+447700900123", "+4915112345678", "+33612345678", "+31612345678", "+393331234567", "+46701234567"].every(
        (number) => may(number, EUROPE),
      ),
    ).toBe(true)
  })

  it("of islands within +1 are foreign unless named: a text there costs as one abroad does", () => {
    for (const area of [
      "242",
      "246",
      "268",
      "284",
      "345",
      "441",
      "473",
      "649",
      "664",
      "758",
      "767",
      "784",
      "809",
      "829",
      "849",
      "868",
      "869",
      "876",
    ])
      expect(may(`+1${area}5550123`), area).toBe(false)
    expect(may("+18765550123", { countries: ["1", "1876"] })).toBe(true)
    expect(may("+18095550123", { countries: ["1", "1876"] })).toBe(false)
  })

  it("are not texted at all where no country is open", () => {
    expect(may("+17175550142", { countries: [] })).toBe(false)
    expect(may("+17175550142", { countries: ["", "+"] })).toBe(false)
  })

  it("may be written with a plus or without", () => {
    expect(may("+17175550142", { countries: ["+1"] })).toBe(true)
  })
})

describe("what is no number", () => {
  it.each([
    "",
    "7175550142",
    "+0175550142",
    "+1717555014",
    "+171755501422",
    "+1 717 555 0142",
    "whatsapp:+17175550142",
    "12345",
    "+1717555o142",
    "+1234567890123456",
    "+17175550142\n",
  ])("%j is never texted", (number) => expect(may(number)).toBe(false))
})

describe("the calling code of the number that sends", () => {
  it("is what is open where the owner named nothing (ITU-T list of country codes, from memory)", () => {
    expect(
      [
        "+17175550100",
        "+447700900100",
        "+4915112345678",
        "+353851234567",
        "+420601123456",
        "+78001234567",
        "+18765550100",
        "+6421123456",
        "+35799123456",
      ].map(callingCodeOf),
    ).toEqual(["1", "44", "49", "353", "420", "7", "1876", "64", "357"])
    expect(callingCodeOf("12345")).toBeNull()
  })
})
