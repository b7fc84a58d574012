import { describe, expect, it } from "vitest"
import type { Instant } from "../../src/values/instant.ts"
import { checkText } from "../../src/wording/check-text.ts"
import { aBed, aGarden, aPerson, aSowing } from "../given.ts"
import { anOffice, soon, talk } from "./given-office.ts"

const SAM = "+17175550150"
const TOM = "+17175550151"
const acre = () =>
  aGarden({
    id: "acre",
    name: "Spring Street",
    invite: "rootwork",
    people: [aPerson()],
    beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })],
  })

const JOINING = ["Rootwork", "yes", "I'm Sam", "Long bed, 4 x 8 ft", "rye 60, hairy vetch 40, 20 Sep"]

describe("joining by an invite word", () => {
  it("asks for a yes, a name, a bed and what is sown, and then plans it", async () => {
    const house = await anOffice(acre())
    const answers = await talk(house, SAM, ...JOINING)
    expect(answers[0]).toMatch(/^Ryebell for Spring Street: .*about 2 texts a week.*JOIN.*STOP/)
    expect(answers[1]).toMatch(/first name/)
    expect(answers[2]).toMatch(/Thanks, Sam/)
    expect(answers[3]).toMatch(/Long bed/)
    expect(answers[4]).toMatch(/You are in, Sam: Long bed\. .*rye and hairy vetch sown on/i)
    for (const text of answers)
      expect(
        checkText(text, { several: true, replies: "any", carrierWords: true }).filter((w) => !/reply word/.test(w)),
      ).toEqual([])
    const [guest] = house.house.shelf.guestsOf?.("acre") ?? []
    expect(guest).toMatchObject({
      id: "acre-1",
      name: "Sam's garden",
      place: acre().place,
      people: [{ name: "Sam", phone: SAM, by: "text" }],
      beds: [
        {
          name: "Long bed",
          sowings: [{ sown: "2025-09-20", species: [{ id: "winter-rye", share: 0.6 }, { id: "hairy-vetch" }] }],
        },
      ],
    })
    const [next] = await talk(house, SAM, "next")
    expect(next).toMatch(/Long bed/)
    expect((await house.log("acre-1")).find((entry) => entry.kind === "channel")).toMatchObject({
      state: "confirmed",
      person: "keeper",
    })
    // Nothing of what they said is in the log that the host reads.
    expect((await house.log("acre")).filter((entry) => entry.kind === "reply")).toEqual([])
  })

  it("lets nobody in who does not say the word, and begins nothing without a yes", async () => {
    const house = await anOffice(acre())
    expect((await talk(house, SAM, "rootwerk"))[0]).toMatch(/do not know this number/)
    const answers = await talk(house, TOM, "join rootwork", "what is this", "hm", "well", "what", "huh")
    expect(answers.filter((answer) => answer !== "")).toHaveLength(4)
    expect(house.house.shelf.guestsOf?.("acre")).toEqual([])
  })

  it("ends at STOP without a word, and may begin again", async () => {
    const house = await anOffice(acre())
    const answers = await talk(house, SAM, "rootwork", "yes", "STOP", "rootwork")
    expect(answers[2]).toBe("")
    expect(answers[3]).toMatch(/Ryebell for Spring Street/)
    await talk(house, SAM, "STOP")
    expect(house.house.shelf.guestsOf?.("acre")).toEqual([])
  })

  it("asks again what it cannot read, and takes a bed with nothing in it", async () => {
    const house = await anOffice(acre())
    const answers = await talk(
      house,
      SAM,
      "rootwork",
      "yes",
      "Sam",
      "the long one",
      "big",
      "4x8ft",
      "kudzu in May",
      "clover 3 May",
      "nothing yet",
    )
    expect(answers[3]).toMatch(/How big/)
    expect(answers[4]).toMatch(/did not get that/)
    expect(answers[5]).toMatch(/Which cover/)
    expect(answers[6]).toMatch(/do not know "kudzu/)
    expect(answers[7]).toMatch(/which clover: .* or /)
    expect(answers[8]).toMatch(/You are in, Sam: The long one, nothing sown yet/)
  })

  it("takes a text that comes twice once, at each step", async () => {
    const house = await anOffice(acre())
    for (const [i, text] of JOINING.entries())
      for (let times = 0; times < 3; times += 1) await house.says(SAM, text, soon(), { id: `SMjoin${i}` })
    expect(house.texts.filter((left) => left.to === SAM)).toHaveLength(5)
    expect(house.house.shelf.guestsOf?.("acre")).toHaveLength(1)
  })

  it("goes on where a process was killed between two writes", async () => {
    for (const verb of ["settleIncoming", "keepGarden"] as const) {
      const house = await anOffice(acre())
      const { store } = house.house
      const whole = store[verb].bind(store) as (...args: unknown[]) => Promise<never>
      let calls = 0
      Object.assign(store, {
        [verb]: async (...args: unknown[]) => {
          calls += 1
          if (calls % 2 === 1) throw new Error("killed before it was written")
          return whole(...args)
        },
      })
      for (const text of JOINING) {
        const now = soon()
        await house.says(SAM, text, now)
        await house.at((now + 90_000) as Instant)
      }
      expect(
        house.texts.filter((left) => left.to === SAM),
        verb,
      ).toHaveLength(5)
      expect(house.house.shelf.guestsOf?.("acre"), verb).toHaveLength(1)
    }
  })

  it("gives one phone a second garden, and tells the two apart (P6)", async () => {
    const other = aGarden({
      ...acre(),
      id: "mill",
      name: "Mill Lane",
      invite: "millwheel",
      people: [aPerson({ id: "zoe", phone: "+17175550160" })],
    })
    const house = await anOffice(acre(), other)
    await talk(house, SAM, ...JOINING)
    const answers = await talk(house, SAM, "millwheel", "yes", "Sam", "East bed 3 m2", "oats, 1 Apr")
    expect(answers.at(-1)).toMatch(/You are in, Sam: East bed/)
    expect(house.house.shelf.guestsOf?.("mill")).toHaveLength(1)
    expect((await talk(house, SAM, "why east bed"))[0]).toMatch(/East bed/)
    expect((await talk(house, SAM, "why long bed"))[0]).toMatch(/Long bed/)
  })
})

describe("a household and its addresses", () => {
  const codeIn = (text: string | undefined) => /LINK (\d{6})/.exec(text ?? "")?.[1] ?? ""

  it("comes in by a code, once each", async () => {
    const house = await anOffice(acre())
    await talk(house, SAM, ...JOINING)
    const code = codeIn((await talk(house, SAM, "INVITE"))[0])
    const answers = await talk(house, TOM, `link ${code}`, "Tom")
    expect(answers[1]).toMatch(/You are in, Tom: reminders for Sam's garden/)
    expect(house.house.shelf.byId("acre-1")?.people.map(({ name, phone }) => [name, phone])).toEqual([
      ["Sam", SAM],
      ["Tom", TOM],
    ])
    expect((await talk(house, TOM, "next"))[0]).toMatch(/Long bed/)
    expect((await talk(house, "+17175550152", `link ${code}`))[0]).toMatch(/not right/)
  })

  it("links a mailbox to a phone by the code that went there, given by the same phone alone", async () => {
    const house = await anOffice(acre())
    await talk(house, SAM, ...JOINING)
    await talk(house, SAM, "mail sam@example.org")
    const [mail] = house.mails.filter((left) => left.to === "sam@example.org")
    const code = codeIn(mail?.text)
    expect((await talk(house, TOM, `LINK ${code}`))[0]).toMatch(/not right/)
    expect(house.house.shelf.byId("acre-1")?.people[0]?.email).toBeNull()
    expect((await talk(house, SAM, `LINK ${code}`))[0]).toMatch(/Linked: .*sam@example.org/)
    expect(house.house.shelf.byId("acre-1")?.people[0]).toMatchObject({
      email: "sam@example.org",
      by: "text",
      phone: SAM,
    })
  })

  it("is let in by no guess: after five wrong codes a phone is not listened to that day", async () => {
    const house = await anOffice(acre())
    await talk(house, SAM, ...JOINING)
    const code = codeIn((await talk(house, SAM, "INVITE"))[0])
    const wrong = Array.from(
      { length: 5 },
      (_, i) => `link ${String((Number(code) + i + 1) % 1_000_000).padStart(6, "0")}`,
    )
    await talk(house, TOM, ...wrong)
    await talk(house, TOM, `link ${code}`, "Tom")
    expect(house.house.shelf.byId("acre-1")?.people).toHaveLength(1)
  })

  it("of a garden in a file is its owner's to change", async () => {
    const house = await anOffice(acre())
    await house.says("+17175550142", "join", soon())
    expect((await talk(house, "+17175550142", "invite"))[0]).toMatch(/kept in a file/)
  })
})
