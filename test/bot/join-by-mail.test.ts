import { describe, expect, it } from "vitest"
import { asksToJoin } from "../../src/bot/join.ts"
import { applyIncoming, receive } from "../../src/bot/receive.ts"
import { sendDue } from "../../src/bot/send.ts"
import { DAY_MS, type Instant } from "../../src/values/instant.ts"
import { checkText } from "../../src/wording/check-text.ts"
import { aGarden, aPerson, at } from "../given.ts"
import { every } from "./given-house.ts"
import { aMail, anOffice, soon, talk, talkByMail } from "./given-office.ts"

const SAM = "sam@example.org"
const acre = () => aGarden({ name: "Spring Street", invite: "rootwork", people: [aPerson()] })
const JOINING = ["Rootwork", "JOIN", "I'm Sam", "Long bed, 4 x 8 ft", "rye 60, hairy vetch 40, 20 Sep"]

describe("joining by mail", () => {
  it("is the same talk as by text, in one thread, and nudges come by mail from then on", async () => {
    const house = await anOffice(acre())
    const answers = await talkByMail(house, SAM, ...JOINING)
    expect(answers[0]).toMatch(/^Ryebell for Spring Street: .*about 2 mails a week.*JOIN.*STOP to end.*not you/)
    expect(answers[1]).toMatch(/first name/)
    expect(answers[4]).toMatch(/You are in, Sam: Long bed\. .*About 2 mails a week/i)
    for (const text of answers)
      expect(
        checkText(text, { several: true, replies: "any", carrierWords: true }).filter((w) => !/reply word/.test(w)),
      ).toEqual([])
    expect(house.mails.map(({ subject, headers }) => [subject, headers?.["In-Reply-To"]])).toEqual(
      answers.map(() => ["Re: my beds", expect.stringMatching(/^<m\d+@example.org>$/)]),
    )
    const [guest] = house.house.shelf.guestsOf?.("acre") ?? []
    expect(guest?.people).toMatchObject([{ name: "Sam", email: SAM, phone: null, by: "mail" }])
    expect((await house.log("acre-1")).find((entry) => entry.kind === "channel")).toMatchObject({
      person: "keeper",
      channel: "mail",
      state: "confirmed",
    })
    for (const now of every(240, at("2026-04-01 12:00"), at("2026-05-25 20:00"))) await house.at(now)
    expect(house.mails.some((mail) => mail.to === SAM && mail.kind === "nudge" && mail.told.length > 0)).toBe(true)
    expect(house.texts.filter((text) => text.garden === "acre-1")).toEqual([])
  })

  it("reads the first own line of a mail alone", async () => {
    const house = await anOffice(acre())
    await talkByMail(
      house,
      SAM,
      "\n  rootwork \n\nI heard of it from Ines.\nSam",
      "yes\nplease",
      "Sam\nSpring Street 4",
      "Long bed, 4 x 8 ft\n\nSam",
      "none\nyet",
    )
    expect(house.house.shelf.guestsOf?.("acre")?.[0]?.people[0]?.name).toBe("Sam")
    const { shelf } = house.house
    expect(asksToJoin(shelf, "join rootwork\nSam")).toBe(true)
    expect(asksToJoin(shelf, "Dear all,\nrootwork")).toBe(false)
    expect(asksToJoin(shelf, "")).toBe(false)
  })

  it("writes to an address that nobody proved once a day, whatever comes in its name", async () => {
    const house = await anOffice(acre())
    for (const [day, mails] of [
      ["2026-04-01", 1],
      ["2026-04-02", 2],
      ["2026-04-03", 3],
    ] as const) {
      for (const [i, text] of ["rootwork", "yes", "rootwork", "Sam", "what is this", "rootwork"].entries())
        await aMail(house, SAM, text, at(`${day} 09:${10 + i}`), "none")
      expect(house.mails.filter((mail) => mail.to === SAM)).toHaveLength(mails)
    }
    expect(house.house.shelf.guestsOf?.("acre")).toEqual([])
    // Whoever answers the last of them goes on from there.
    await aMail(house, SAM, "yes", at("2026-04-03 10:00"))
    expect(house.mails.at(-1)?.text).toMatch(/first name/)
    await aMail(house, SAM, "Mallory", at("2026-04-03 10:01"), "none")
    await aMail(house, SAM, "Sam", at("2026-04-03 10:02"))
    expect(house.mails.at(-1)?.text).toMatch(/Thanks, Sam/)
  })

  it("tells whoever goes on in a new mail how it goes on, once a day", async () => {
    const house = await anOffice(acre())
    await aMail(house, SAM, "rootwork", at("2026-04-01 09:00"), "none")
    await aMail(house, SAM, "yes", at("2026-04-01 10:00"))
    for (const minute of ["10", "20", "30"]) await aMail(house, SAM, "Sam", at(`2026-04-02 09:${minute}`), "none")
    const last = house.mails.filter((mail) => mail.at >= at("2026-04-02 00:00"))
    expect(last.map(({ text }) => text)).toEqual([expect.stringMatching(/reply button of my last mail/)])
    expect(checkText(last[0]?.text ?? "", { several: true, replies: "any", carrierWords: true })).toEqual([])
  })

  it.each(["thread", "none"])("ends at STOP without a word (proof: %s)", async (proof) => {
    const house = await anOffice(acre())
    await aMail(house, SAM, "rootwork", soon(), "none")
    await aMail(house, SAM, "Stop, please", soon(), proof)
    expect(house.mails).toHaveLength(1)
    // What comes later begins nothing.
    await aMail(house, SAM, "yes", soon())
    expect(house.mails).toHaveLength(1)
    expect(house.house.shelf.guestsOf?.("acre")).toEqual([])
  })

  it("takes a mail that comes twice once, and two ways of one person for two", async () => {
    const house = await anOffice(acre())
    for (const [i, text] of JOINING.entries()) {
      const extra = { proof: i === 0 ? "none" : "thread", messageId: `<j${i}@example.org>` }
      for (let times = 0; times < 3; times += 1)
        await house.says(SAM, text, soon(), { id: `mail:j${i}`, via: "email", extra })
    }
    expect(house.mails.filter((left) => left.to === SAM)).toHaveLength(JOINING.length)
    expect(house.house.shelf.guestsOf?.("acre")).toHaveLength(1)
    await talk(house, "+17175550150", ...JOINING)
    expect(house.house.shelf.guestsOf?.("acre")).toHaveLength(2)
  })

  it("begins with so many addresses a day and no more, and keeps no phone out by that (X9)", async () => {
    const house = await anOffice(acre())
    const now = at("2026-04-01 09:00")
    const letIn = async (i: number, when: Instant) => {
      const extra = { proof: "none", messageId: `<f${i}@example.org>` }
      const from = `forged${i}@example.org`
      const to = "bot@example.org"
      await receive(house.house, { id: `f${i}`, via: "email", from, to, text: "rootwork", at: when, media: [], extra })
    }
    for (let i = 0; i < 520; i += 1) await letIn(i, now)
    for (let rounds = 0; rounds < 3; rounds += 1) {
      await applyIncoming(house.house, now)
      await sendDue(house.house, now)
    }
    const invited = house.mails.filter((mail) => mail.text.startsWith("Ryebell for"))
    expect(invited).toHaveLength(500)
    expect(house.mails.length).toBeLessThanOrEqual(510)
    expect((await talk(house, "+17175550151", "rootwork"))[0]).toMatch(/^Ryebell for Spring Street/)
    await letIn(1000, (now + DAY_MS) as Instant)
    await house.at((now + DAY_MS) as Instant)
    expect(house.mails.at(-1)?.to).toBe("forged1000@example.org")
  })
})
