import { describe, expect, it } from "vitest"
import { checkText } from "../../src/wording/check-text.ts"
import { aGarden, aPerson, at } from "../given.ts"
import { every, type TestHouse } from "./given-house.ts"
import { aMail, anOffice, soon, talk, talkByMail } from "./given-office.ts"

const SAM = "sam@example.org"
const SAMS_PHONE = "+17175550150"
const TOM = "+17175550151"
const acre = () => aGarden({ name: "Spring Street", invite: "rootwork", people: [aPerson()] })
const JOINING = ["rootwork", "yes", "Sam", "Long bed, 4 x 8 ft", "rye 60, hairy vetch 40, 20 Sep"]

const codeIn = (text: string | undefined) => /LINK (\d{6})/.exec(text ?? "")?.[1] ?? "none"
const people = (house: TestHouse) => house.house.shelf.byId("acre-1")?.people ?? []

/** Sam has joined by mail. */
async function joinedByMail(): Promise<TestHouse> {
  const house = await anOffice(acre())
  await talkByMail(house, SAM, ...JOINING)
  return house
}

async function weeks(house: TestHouse, from: string, to: string): Promise<void> {
  for (const now of every(120, at(from), at(to))) await house.at(now)
}

describe("a phone linked to a mailbox", () => {
  it("is the one that gives the code which went there: nudges come to it from then on, with its yes on record", async () => {
    const house = await joinedByMail()
    await aMail(house, SAM, "phone", soon())
    const code = codeIn(house.mails.at(-1)?.text)
    expect(checkText(house.mails.at(-1)?.text ?? "", { several: true, replies: "any" })).toEqual([])
    expect(people(house)).toMatchObject([{ phone: null, by: "mail" }])
    const [linked] = await talk(house, SAMS_PHONE, `LINK ${code}`)
    expect(linked).toMatch(/^Linked, Sam: nudges for Sam's garden come to this phone/)
    expect(people(house)).toMatchObject([{ email: SAM, phone: SAMS_PHONE, by: "text" }])
    expect((await house.log("acre-1")).filter((entry) => entry.kind === "channel")).toMatchObject([
      { channel: "mail", state: "confirmed" },
      { channel: "text", state: "confirmed", person: "keeper" },
    ])
    const [texts, mails] = [house.texts.length, house.mails.length]
    await weeks(house, "2026-04-02 07:00", "2026-05-25 20:00")
    const sent = house.texts.slice(texts).filter((text) => text.garden === "acre-1")
    expect(sent.some((text) => text.to === SAMS_PHONE && text.told.length > 0)).toBe(true)
    expect(house.mails.slice(mails).filter((mail) => mail.to === SAM && mail.kind === "nudge")).toEqual([])
  })

  it("is linked by nobody's word alone: not by a mail that may be anybody's, not by a code used twice or too late", async () => {
    const house = await joinedByMail()
    await aMail(house, SAM, "phone", soon(), "none")
    expect(house.mails.some((mail) => /LINK/.test(mail.text))).toBe(false)
    await aMail(house, SAM, "PHONE", soon())
    const code = codeIn(house.mails.at(-1)?.text)
    expect((await talk(house, SAMS_PHONE, `link ${code}`))[0]).toMatch(/^Linked/)
    expect((await talk(house, TOM, `link ${code}`))[0]).toMatch(/not right/)
    await aMail(house, SAM, "phone", soon())
    const second = codeIn(house.mails.at(-1)?.text)
    // A garden's phone is changed by no code that another phone gives.
    expect((await talk(house, TOM, `link ${second}`))[0]).toMatch(/not right/)
    const late = at("2026-04-05 09:00")
    await house.says(SAMS_PHONE, `link ${second}`, late)
    expect(house.texts.at(-1)?.text).toMatch(/not right, or it has run out/)
    expect(people(house)).toMatchObject([{ phone: SAMS_PHONE }])
  })
})

describe("two people of one garden, one by mail and one by text", () => {
  async function household(): Promise<TestHouse> {
    const house = await joinedByMail()
    await aMail(house, SAM, "INVITE\n\nSam", soon())
    const answers = await talk(house, TOM, `link ${codeIn(house.mails.at(-1)?.text)}`, "Tom")
    expect(answers[1]).toMatch(/You are in, Tom: reminders for Sam's garden/)
    return house
  }

  it("are told of the same work, each in their own way and once", async () => {
    const house = await household()
    const [texts, mails] = [house.texts.length, house.mails.length]
    await weeks(house, "2026-04-02 07:00", "2026-05-25 20:00")
    const byText = house.texts.slice(texts).filter((text) => text.garden === "acre-1")
    const byMail = house.mails.slice(mails).filter((mail) => mail.garden === "acre-1" && mail.kind === "nudge")
    expect(new Set(byText.map(({ to }) => to))).toEqual(new Set([TOM]))
    expect(new Set(byMail.map(({ to }) => to))).toEqual(new Set([SAM]))
    const told = (left: typeof byText) => left.flatMap((each) => each.told.map(({ id, call }) => `${id}#${call}`))
    expect(told(byText)).toContain("long-bed:2025-09-20:cut:1#1")
    expect(told(byMail)).toContain("long-bed:2025-09-20:cut:1#1")
    for (const list of [told(byText), told(byMail)]) expect(list.length).toBe(new Set(list).size)
  })

  it.each(["text", "mail"] as const)("are both done with what the first answered, by %s", async (first) => {
    const house = await household()
    const cut = "long-bed:2025-09-20:cut:1"
    const hasHeard = (left: TestHouse["texts"]) =>
      left.some((each) => each.kind === "nudge" && each.told.some(({ id }) => id === cut))
    for (const now of every(120, at("2026-04-02 07:00"), at("2026-06-20 20:00"))) {
      await house.at(now)
      if (hasHeard(house.texts) && hasHeard(house.mails)) break
    }
    const numberIn = (left: TestHouse["texts"]) =>
      left.flatMap(({ kind, told }) => (kind === "nudge" ? told : [])).find(({ id }) => id === cut)?.n
    const [byText, byMail] = [`done ${numberIn(house.texts)}`, `done ${numberIn(house.mails)}`]
    const answered = house.house.clock.now()
    const later = (hours: number) => (answered + hours * 3_600_000) as typeof answered
    await (first === "text" ? house.says(TOM, byText, later(1)) : aMail(house, SAM, byMail, later(1)))
    const [texts, mails] = [house.texts.length, house.mails.length]
    for (const now of every(120, later(2), later(24 * 14))) await house.at(now)
    const after = [...house.texts.slice(texts), ...house.mails.slice(mails).filter(({ kind }) => kind === "nudge")]
    expect(after.flatMap(({ told }) => told.map(({ id }) => id))).not.toContain(cut)
    // The other hears who did it, and nothing is done twice.
    await (first === "text"
      ? aMail(house, SAM, byMail, later(24 * 14 + 1))
      : house.says(TOM, byText, later(24 * 14 + 1)))
    const answer = (first === "text" ? house.mails : house.texts).at(-1)?.text
    expect(answer).toMatch(first === "text" ? /Tom/ : /Sam/)
    const view = house.house.memory.views.get("acre-1")?.view
    const cuts = [...(view?.history.beds.values() ?? [])]
      .flat()
      .flatMap(({ facts }) => facts.filter((f) => f.fact === "cut"))
    expect(cuts).toHaveLength(1)
  })
})
