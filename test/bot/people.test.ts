import { describe, expect, it } from "vitest"
import { saysWrongNumber } from "../../src/replies/wrong-number.ts"
import { addMs, HOUR_MS, MINUTE_MS } from "../../src/values/instant.ts"
import { aBed, aGarden, aPerson, aSowing, at } from "../given.ts"
import { aHouse, every } from "./given-house.ts"

const INES = "+17175550142"
const TOM = "+17175550143"
const acre = (known: Partial<Parameters<typeof aGarden>[0]> = {}) =>
  aGarden({
    people: [aPerson(), aPerson({ id: "tom", name: "Tom", phone: TOM, email: null, digest: null })],
    beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })],
    ...known,
  })

describe("a phone that is somebody else's (P2)", () => {
  const STRANGE = [
    "wrong number",
    "You have the wrong number.",
    "Sorry, wrong person",
    "who is this?",
    "Who's this",
    "new phone who dis",
    "new phone, who is this",
    "who are you",
    "I think you have the wrong number",
    "you've got the wrong guy",
    "this is not Ines",
    "not Ines",
    "no Ines here",
    "I don't know any Ines",
    "I don't know you",
    "do I know you?",
    "I don't have a garden",
    "this isn't my garden",
    "never signed up for this",
    "I didn't sign up for that",
    "you are texting the wrong person",
    "wrong nbr",
    "she changed her number, wrong person",
    "Ines no longer has this number",
    "it's not the right number",
    "numero equivocado",
    "¿Quién es?",
    "no soy Ines",
    "Falsche Nummer",
    "wer ist das?",
    "Mauvais numéro",
    "verkeerd nummer",
  ]
  it.each(STRANGE)("says so with %j", (words) => {
    expect(saysWrongNumber(words, ["Ines"])).toBe(true)
  })

  it.each([
    "who is this reminder for",
    "that's the wrong bed",
    "not yet",
    "Ines did it",
    "not Ines bed, south",
    "wrong date, it was monday",
    "who are you kidding, slugs ate it all and I have to sow the whole of the south bed again tomorrow morning",
    "new phone arrived, done 1",
    "this is not up yet",
    "done 1",
    "number 2 is wrong",
  ])("is not meant by %j", (words) => {
    expect(saysWrongNumber(words, ["Ines"])).toBe(false)
  })

  it("gets one answer and nothing more; the words are kept and the organiser is told", async () => {
    const house = aHouse(acre())
    await house.says(TOM, "join", at("2026-04-01 09:00"))
    await house.says(TOM, "wrong number", at("2026-04-02 09:00"))
    const answered = house.texts.length
    for (const now of every(240, at("2026-04-02 10:00"), at("2026-06-01 20:00"))) await house.at(now)
    expect(house.texts.at(answered - 1)?.text).toContain("No more texts")
    expect(house.texts.slice(answered).filter((text) => text.to === TOM)).toEqual([])
    expect(house.mails.filter((mail) => mail.key.startsWith("told:"))).toMatchObject([{ to: "ines@example.org" }])
    expect((await house.log()).some((entry) => entry.kind === "reply" && entry.text === "wrong number")).toBe(true)
  })
})

describe("a phone that cannot be texted (P3)", () => {
  it("is not tried again; mail takes over, and the organiser hears of it once", async () => {
    const house = aHouse(acre({ people: [aPerson()] }))
    await house.says(INES, "join", at("2026-04-01 09:00"))
    house.refuses.text = () => ({ is: "failed", code: "30006", text: "a landline", hold: "held" })
    let tries = 0
    const refuse = house.refuses.text
    house.refuses.text = (message) => {
      tries += 1
      return refuse(message)
    }
    for (const now of every(240, at("2026-04-02 08:00"), at("2026-06-01 20:00"))) await house.at(now)
    expect(tries).toBe(1)
    expect(house.mails.some((mail) => mail.kind === "nudge")).toBe(true)
    expect(house.mails.filter((mail) => mail.key.startsWith("told:"))).toHaveLength(1)
  })
})

describe("an unknown number (P5)", () => {
  it("is kept, acted on in nothing, and answered once a day", async () => {
    const house = aHouse(acre())
    for (let i = 0; i < 5; i += 1)
      await house.says("+17175550177", `done ${i}`, addMs(at("2026-04-02 09:00"), i * 20 * MINUTE_MS))
    const entries = (await house.log()).filter((entry) => entry.kind === "reply")
    expect(entries).toHaveLength(5)
    expect(entries.every((entry) => entry.kind === "reply" && entry.acts.length === 0)).toBe(true)
    expect(house.texts).toHaveLength(1)
  })

  it("that says stop is not answered at all", async () => {
    const house = aHouse(acre())
    await house.says("+17175550177", "please stop texting me", at("2026-04-02 09:00"))
    expect(house.texts).toEqual([])
  })

  it("among a thousand of them costs ten answers a day at most (X9)", async () => {
    const house = aHouse(acre())
    for (let i = 0; i < 1000; i += 1)
      await house.says(`+1717555${1000 + i}`, "join", addMs(at("2026-04-02 09:00"), i * 1000))
    expect(house.texts.length).toBeLessThanOrEqual(10)
    expect(house.texts.every((text) => text.person === "unknown")).toBe(true)
  }, 60_000)
})

describe("stop (P8, P9, P14, P15)", () => {
  it("of a carrier's word is met with silence, since the carrier speaks; of other words it is confirmed once", async () => {
    const house = aHouse(acre())
    await house.says(INES, "join", at("2026-04-01 09:00"))
    const joined = house.texts.length
    await house.says(INES, "STOP", at("2026-04-01 10:00"))
    expect(house.texts).toHaveLength(joined)
    await house.says(TOM, "please stop texting me", at("2026-04-01 10:00"))
    expect(house.texts).toHaveLength(joined + 1)
  })

  it("that only the carrier was told (21610) counts as theirs: one try, no more", async () => {
    const house = aHouse(acre({ people: [aPerson({ email: null, digest: null })] }))
    await house.says(INES, "join", at("2026-04-01 09:00"))
    let tries = 0
    house.refuses.text = () => {
      tries += 1
      return { is: "failed", code: "21610", text: "said stop", hold: "stopped" }
    }
    for (const now of every(240, at("2026-04-02 08:00"), at("2026-06-01 20:00"))) await house.at(now)
    expect(tries).toBe(1)
    expect(await house.log()).toContainEqual(
      expect.objectContaining({ kind: "channel", person: "ines", channel: "text", state: "stopped" }),
    )
  })

  it("counts for that phone in every garden that writes to it", async () => {
    const hill = aGarden({ ...acre(), id: "hill", name: "Hill Lots" })
    const house = aHouse(acre(), hill)
    await house.says(INES, "stop all texts", at("2026-04-01 09:00"))
    for (const garden of ["acre", "hill"]) {
      const stops = (await house.log(garden)).filter(
        (entry) =>
          (entry.kind === "channel" && entry.state === "stopped") ||
          (entry.kind === "reply" && entry.acts.some((act) => act.act === "stop")),
      )
      expect(stops, garden).toHaveLength(1)
    }
  })

  it("by text leaves mail alone, and by mail leaves texts alone", async () => {
    const house = aHouse(acre({ people: [aPerson()] }))
    await house.says(INES, "join", at("2026-04-01 09:00"))
    await house.says(INES, "stop", at("2026-04-02 09:00"))
    for (const now of every(240, at("2026-04-02 10:00"), at("2026-04-20 20:00"))) await house.at(now)
    expect(house.mails.some((mail) => mail.kind === "digest")).toBe(true)
    const other = aHouse(acre({ people: [aPerson()] }))
    await other.says(INES, "join", at("2026-04-01 09:00"))
    await other.says("ines@example.org", "stop", at("2026-04-02 09:00"), { via: "email" })
    for (const now of every(240, at("2026-04-02 10:00"), at("2026-05-20 20:00"))) await other.at(now)
    expect(other.mails.filter((mail) => mail.kind === "digest")).toEqual([])
    expect(other.texts.some((text) => text.told.length > 0)).toBe(true)
  })
})

describe("a person of two gardens (P6)", () => {
  const hill = () =>
    aGarden({
      id: "hill",
      name: "Hill Lots",
      people: [aPerson()],
      beds: [aBed({ id: "ridge", sowings: [aSowing({ bed: "ridge" })] })],
    })
  const both = async () => {
    const house = aHouse(acre({ people: [aPerson()] }), hill())
    await house.says(INES, "join long acre", at("2026-04-01 09:00"))
    return house
  }

  it("is understood by the bed that is named", async () => {
    const house = await both()
    await house.says(INES, "ridge rye is 41 cm tall", at("2026-04-10 09:00"))
    expect((await house.log("hill")).some((entry) => entry.kind === "reply" && entry.text.startsWith("ridge"))).toBe(
      true,
    )
  })

  it("is asked where nothing tells, and their answer is the name alone", async () => {
    const house = aHouse(acre({ people: [aPerson()] }), hill())
    await house.says(INES, "how are things", at("2026-04-10 09:00"))
    expect(house.texts.at(-1)?.text).toContain("Which garden is that for: Long Acre or Hill Lots?")
    await house.says(INES, "Hill Lots", at("2026-04-10 09:05"))
    expect((await house.log("hill")).filter((entry) => entry.kind === "reply")).toHaveLength(1)
  })

  it("never has one number for two things", async () => {
    const house = await both()
    await house.says(INES, "ridge rye is 41 cm tall", at("2026-04-02 09:00"))
    for (const now of every(240, at("2026-04-02 10:00"), at("2026-06-10 20:00"))) await house.at(now)
    const told = house.texts.flatMap((text) => text.told.map(({ n, id }) => `${n} ${text.garden} ${id}`))
    const owners = new Map<string, Set<string>>()
    for (const each of new Set(told)) {
      const [n = "", ...owner] = each.split(" ")
      owners.set(n, (owners.get(n) ?? new Set()).add(owner.join(" ")))
    }
    expect(owners.size).toBeGreaterThan(1)
    expect([...owners.values()].filter((each) => each.size > 1)).toEqual([])
  })
})

describe("answers that come too often", () => {
  it("stop at twenty a day to an echo, and at three in ten minutes (P28)", async () => {
    const house = aHouse(acre({ people: [aPerson({ email: null, digest: null })] }))
    await house.says(INES, "join", at("2026-04-01 00:01"))
    for (const now of every(2, at("2026-04-01 00:10"), at("2026-04-01 23:50")))
      await house.says(INES, `echo: ${house.texts.at(-1)?.text.slice(0, 30)} ${now % 97}`, now)
    expect(house.texts.length).toBeLessThanOrEqual(20)
  }, 60_000)

  it("do not keep back a gardener who tells one thing after the other", async () => {
    const house = aHouse(acre({ people: [aPerson()] }))
    for (let i = 0; i < 8; i += 1)
      await house.says(INES, `south rye is ${40 + i} cm tall`, addMs(at("2026-04-01 09:00"), i * MINUTE_MS))
    expect(house.texts.filter((text) => text.kind === "answer")).toHaveLength(8)
  })
})

describe("words that come twice", () => {
  it("under two ids within two minutes act once (D14)", async () => {
    const house = aHouse(acre())
    await house.says(INES, "south rye is 41 cm tall", at("2026-04-01 09:00"))
    await house.says(INES, "south rye is 41 cm tall", addMs(at("2026-04-01 09:00"), 1000))
    const replies = (await house.log()).filter((entry) => entry.kind === "reply")
    expect(replies).toHaveLength(2)
    expect(replies.filter((entry) => entry.kind === "reply" && entry.ignored !== undefined)).toHaveLength(1)
    expect(house.texts).toHaveLength(1)
  })

  it("as an impatient second done settle nothing further (D15)", async () => {
    const house = aHouse(
      acre({
        people: [aPerson({ email: null, digest: null })],
        beds: ["a", "b"].map((id) => aBed({ id, sowings: [aSowing({ bed: id })] })),
      }),
    )
    await house.says(INES, "join", at("2026-04-01 09:00"))
    for (const now of every(240, at("2026-04-02 08:00"), at("2026-05-18 20:00"))) await house.at(now)
    const told = house.texts.flatMap((text) => text.told)
    const open = told.filter(({ kind }) => kind === "cut").map(({ n }) => n)
    expect(new Set(open).size).toBeGreaterThanOrEqual(2)
    await house.at(at("2026-05-19 09:00"))
    await house.says(INES, `done ${open[0]}`, at("2026-05-19 13:00"))
    await house.says(INES, "done", at("2026-05-19 13:04"))
    const settled = (await house.log()).flatMap((entry) =>
      entry.kind === "reply" ? entry.acts.flatMap((act) => (act.act === "done" ? act.n : [])) : [],
    )
    expect(new Set(settled).size).toBe(1)
    expect(house.texts.at(-1)?.text).toContain("noted already")
  })
})

describe("a carrier that is down (O1)", () => {
  it("for hours lets mail take over what is due, once, and brings no burst when it is back", async () => {
    const house = aHouse(acre({ people: [aPerson()] }))
    await house.says(INES, "join", at("2026-04-01 09:00"))
    const isDown = (now: number) => now > at("2026-04-05 00:00") && now < addMs(at("2026-04-05 00:00"), 72 * HOUR_MS)
    house.refuses.text = () =>
      isDown(house.house.clock.now())
        ? { is: "later", dueAt: addMs(house.house.clock.now(), 30 * MINUTE_MS), code: "http-503", text: "down" }
        : null
    for (const now of every(30, at("2026-04-01 10:00"), at("2026-04-12 20:00"))) await house.at(now)
    const days = house.texts.filter((text) => text.told.length > 0).map((text) => Math.floor(text.at / 86_400_000))
    expect(days.length).toBe(new Set(days).size)
    const calls = [...house.texts, ...house.mails.filter((mail) => mail.kind === "nudge")].flatMap((message) =>
      message.told.map((told) => `${told.id}#${told.call}`),
    )
    expect(calls.length).toBe(new Set(calls).size)
  })
})
