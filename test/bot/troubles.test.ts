import { describe, expect, it } from "vitest"
import { noteBounce, noteFate } from "../../src/bot/fate.ts"
import { freshMemory } from "../../src/bot/house.ts"
import { addMs, DAY_MS, HOUR_MS, MINUTE_MS } from "../../src/values/instant.ts"
import { aBed, aGarden, aPerson, aSowing, at, day } from "../given.ts"
import { aHouse, every, type TestHouse } from "./given-house.ts"

const INES = "+17175550142"
const TOM = "+17175550143"
const acre = (known: Partial<Parameters<typeof aGarden>[0]> = {}) =>
  aGarden({ people: [aPerson()], beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })], ...known })

async function play(house: TestHouse, from: string, to: string, minutes = 60): Promise<void> {
  for (const now of every(minutes, at(from), at(to))) await house.at(now)
}

/** A store verb that fails once. */
function failsOnce(house: TestHouse, verb: "claimPerson" | "claimOutgoing" | "recall"): void {
  const { store } = house.house
  const whole = store[verb].bind(store) as (...args: unknown[]) => Promise<never>
  let failed = false
  Object.assign(store, {
    [verb]: async (...args: unknown[]) => {
      if (failed) return whole(...args)
      failed = true
      throw new Error("planted")
    },
  })
}

describe("one bad minute, garden, person or reply", () => {
  it("is over with the next tick (D5)", async () => {
    const house = aHouse(acre())
    await house.says(INES, "join", at("2026-04-01 09:00"))
    await play(house, "2026-04-01 10:00", "2026-05-02 07:00")
    failsOnce(house, "claimPerson")
    await expect(house.at(at("2026-05-02 08:00"))).rejects.toThrow("planted")
    const before = house.texts.length
    await play(house, "2026-05-02 08:01", "2026-05-20 20:00")
    expect(house.texts.length).toBeGreaterThan(before)
  })

  it("of fifty gardens stays with it; the others go on, and health names it (O10, O14)", async () => {
    const gardens = Array.from({ length: 50 }, (_, i) =>
      aGarden({
        id: `g${i}`,
        people: [aPerson({ phone: `+1717555${2000 + i}`, email: `p${i}@example.org` })],
        beds: [
          aBed({
            id: "a",
            sowings: [aSowing({ bed: "a", planned: day("2026-04-10"), species: [{ id: "oats", share: 1 }] })],
          }),
        ],
      }),
    )
    const house = aHouse(...gardens)
    const { store } = house.house
    house.house.store = {
      ...store,
      entries: (garden, after) => {
        if (garden === "g7") throw new Error("poison")
        return store.entries(garden, after)
      },
    }
    for (let i = 0; i < 6; i += 1) await house.at(addMs(at("2026-04-10 07:55"), i * 5 * MINUTE_MS))
    expect(house.house.memory.errors.get("garden g7")).toBe("poison")
    expect(
      new Set(house.texts.map((text) => text.garden)).size + new Set(house.mails.map((mail) => mail.garden)).size,
    ).toBeGreaterThanOrEqual(49)
    expect([...house.texts, ...house.mails].some((message) => message.garden === "g7")).toBe(false)
  }, 120_000)

  it("of ten people refused is one person's: nine get theirs once, one is tried again alone (D21)", async () => {
    const people = Array.from({ length: 10 }, (_, i) =>
      aPerson({ id: `p${i}`, name: `P${i}`, phone: null, email: `p${i}@example.org`, by: "mail" }),
    )
    const house = aHouse(acre({ people }))
    await house.at(at("2026-05-02 12:00"))
    house.refuses.mail = (message) =>
      message.to === "p3@example.org" && house.house.clock.now() < at("2026-05-03 18:00")
        ? { is: "later", dueAt: addMs(house.house.clock.now(), 10 * MINUTE_MS), code: "451", text: "busy" }
        : null
    await play(house, "2026-05-03 16:50", "2026-05-03 19:30", 5)
    const digests = house.mails.filter((mail) => mail.kind === "digest").map((mail) => mail.to)
    expect(digests.toSorted()).toEqual(people.map((person) => person.email).toSorted())
    expect(digests.at(-1)).toBe("p3@example.org")
  })

  it("reply that cannot be understood is set aside in the end, word for word, and holds up nobody (O14)", async () => {
    const house = aHouse(
      acre({ people: [aPerson(), aPerson({ id: "tom", name: "Tom", phone: TOM, email: null, digest: null })] }),
    )
    const { store } = house.house
    const settle = store.settleIncoming.bind(store)
    house.house.store = {
      ...store,
      settleIncoming: async (id, entries, ...rest) => {
        const first = entries[0]
        if (first?.kind === "reply" && first.text === "poison" && first.ignored === undefined)
          throw new Error("planted")
        return settle(id, entries, ...rest)
      },
    }
    await house.says(INES, "poison", at("2026-04-01 09:00"))
    await house.says(TOM, "south rye is 41 cm tall", at("2026-04-01 09:00"))
    expect(house.texts.at(-1)?.to).toBe(TOM)
    for (let i = 2; i < 20; i += 1) await house.at(addMs(at("2026-04-01 09:00"), i * MINUTE_MS))
    const kept = (await house.log()).find((entry) => entry.kind === "reply" && entry.text === "poison")
    expect(kept).toMatchObject({ acts: [], ignored: "it could not be understood" })
  })
})

describe("waits", () => {
  it("grow to half an hour, stand in the row, and outlive a restart (O4)", async () => {
    const house = aHouse(acre())
    let tries = 0
    house.refuses.text = (message) => {
      tries += 1
      return { is: "later", dueAt: addMs(house.house.clock.now(), 30 * MINUTE_MS), code: "503", text: message.key }
    }
    await house.says(INES, "status", at("2026-04-01 09:00"))
    expect(tries).toBe(1)
    // What a new process knows is only what the store holds.
    house.house.memory = freshMemory()
    await play(house, "2026-04-01 09:01", "2026-04-01 09:29", 1)
    expect(tries).toBe(1)
    await play(house, "2026-04-01 09:30", "2026-04-01 09:35", 1)
    expect(tries).toBe(2)
  })

  it("of a channel that is down and up a hundred times bring no second word to anybody (O11)", async () => {
    const house = aHouse(acre())
    await house.says(INES, "join", at("2026-04-01 09:00"))
    const before = house.texts.length + house.mails.length
    let count = 0
    house.refuses.text = () => {
      count += 1
      return count % 2 === 0
        ? null
        : { is: "later", dueAt: addMs(house.house.clock.now(), MINUTE_MS), code: "503", text: "" }
    }
    for (let i = 0; i < 100; i += 1)
      await house.says(INES, `south rye is ${40 + i} cm tall`, addMs(at("2026-04-02 00:00"), i * 3 * HOUR_MS))
    const own = [...house.texts, ...house.mails].slice(before).filter((message) => message.kind === "service")
    expect(own).toEqual([])
  }, 60_000)
})

describe("a text of which nobody can say whether the carrier has it (D1)", () => {
  const deaf = async () => {
    const house = aHouse(acre())
    let tries = 0
    house.refuses.text = (message) => {
      tries += 1
      const dueAt = addMs(house.house.clock.now(), 2 * MINUTE_MS)
      return tries === 1 ? { is: "unknown", dueAt, code: "no-answer", text: message.key } : null
    }
    const { text } = house.house
    if (text) house.house.text = { ...text, wasTaken: async () => null }
    await house.says(INES, "status", at("2026-04-01 09:00"))
    return { house, tries: () => tries }
  }

  it("waits while the carrier's list cannot be read, and goes again in the last minutes in which it is of use", async () => {
    const { house, tries } = await deaf()
    await play(house, "2026-04-01 09:01", "2026-04-02 08:49", 7)
    expect(tries()).toBe(1)
    await play(house, "2026-04-02 08:50", "2026-04-02 09:30", 1)
    expect(tries()).toBe(2)
    expect(house.texts.filter((text) => text.kind === "answer")).toHaveLength(1)
  })

  it("is given up three days after it was of use, and the log says so: nothing waits for it for ever", async () => {
    const { house, tries } = await deaf()
    await house.at(at("2026-04-02 09:01"))
    await play(house, "2026-04-02 10:00", "2026-04-05 08:00", 240)
    expect((await house.log()).some((entry) => entry.kind === "failed")).toBe(false)
    await play(house, "2026-04-05 10:00", "2026-04-05 12:00", 30)
    expect(tries()).toBe(1)
    expect((await house.log()).filter((entry) => entry.kind === "failed")).toEqual([
      expect.objectContaining({ code: "never-known" }),
    ])
  })
})

describe("the weekly mail", () => {
  it("is one a week, whatever restarts and clocks do in its hour (D19)", async () => {
    const house = aHouse(acre())
    await house.at(at("2026-05-02 12:00"))
    for (const moment of ["16:59", "17:00", "17:30", "16:30", "17:00", "18:10"]) {
      house.house.memory = freshMemory()
      await house.at(at(`2026-05-03 ${moment}`))
    }
    expect(house.mails.filter((mail) => mail.kind === "digest")).toHaveLength(1)
  })

  it("says in the log up to which entry it had seen: what is behind that crossed the mail", async () => {
    const house = aHouse(acre())
    await house.says(INES, "the vetch looks well", at("2026-05-02 12:00"))
    const last = (await house.log()).at(-1)?.seq
    house.refuses.mail = () => ({ is: "later", dueAt: at("2026-05-03 19:00"), code: "away", text: "no server" })
    await house.at(at("2026-05-03 17:00"))
    house.refuses.mail = null
    await house.says(INES, "and the rye too", at("2026-05-03 18:00"))
    await house.at(at("2026-05-03 19:00"))
    const log = await house.log()
    const mail = log.find((entry) => entry.kind === "digest")
    const crossed = log.find((entry) => entry.kind === "reply" && entry.text === "and the rye too")
    expect(mail).toMatchObject({ seen: expect.any(Number) })
    const seen = (mail as { seen: number }).seen
    expect(seen).toBeGreaterThanOrEqual(last ?? 0)
    expect(seen).toBeLessThan(crossed?.seq ?? 0)
    expect(crossed?.seq).toBeLessThan(mail?.seq ?? 0)
  })

  it("keeps its key, and with it its Message-ID, on every retry (D18)", async () => {
    const house = aHouse(acre())
    await house.at(at("2026-05-02 12:00"))
    const keys: string[] = []
    house.refuses.mail = (message) => {
      keys.push(message.key)
      return keys.length < 3
        ? { is: "unknown", dueAt: addMs(house.house.clock.now(), MINUTE_MS), code: "lost", text: "behind the dot" }
        : null
    }
    await play(house, "2026-05-03 17:00", "2026-05-03 18:00", 1)
    expect(keys.length).toBe(3)
    expect(new Set(keys).size).toBe(1)
  })
})

describe("a mailbox that refuses (M9)", () => {
  const digest = async (house: TestHouse, week: number) => {
    await house.at(addMs(at("2026-05-03 17:00"), week * 7 * DAY_MS))
    return house.mails.filter((mail) => mail.kind === "digest").at(-1)
  }

  it("once is written to again; at the second time on another day it is on hold", async () => {
    const house = aHouse(acre())
    await house.at(at("2026-05-02 12:00"))
    const first = await digest(house, 0)
    await noteBounce(house.house, { key: first?.key ?? "", permanent: true, status: "5.2.2" }, at("2026-05-03 18:00"))
    const second = await digest(house, 1)
    expect(second?.key).not.toBe(first?.key)
    await noteBounce(house.house, { key: second?.key ?? "", permanent: true, status: "5.2.2" }, at("2026-05-10 18:00"))
    expect((await digest(house, 2))?.key).toBe(second?.key)
  })

  it("with a word from its owner in between begins anew", async () => {
    const house = aHouse(acre())
    await house.at(at("2026-05-02 12:00"))
    const first = await digest(house, 0)
    await noteBounce(house.house, { key: first?.key ?? "", permanent: true, status: "5.2.2" }, at("2026-05-03 18:00"))
    await house.says("ines@example.org", "south rye is 41 cm tall", at("2026-05-05 12:00"), { via: "email" })
    const second = await digest(house, 1)
    await noteBounce(house.house, { key: second?.key ?? "", permanent: true, status: "5.2.2" }, at("2026-05-10 18:00"))
    expect((await digest(house, 2))?.key).not.toBe(second?.key)
  })

  it("for now (4.x.x) is left to the mail servers", async () => {
    const house = aHouse(acre())
    await house.at(at("2026-05-02 12:00"))
    const first = await digest(house, 0)
    for (const status of ["4.2.2", "4.4.7"])
      await noteBounce(house.house, { key: first?.key ?? "", permanent: false, status }, at("2026-05-03 18:00"))
    expect((await house.log()).filter((entry) => entry.kind === "failed" || entry.kind === "channel")).toEqual([])
  })
})

describe("a report that comes after the fact", () => {
  it("of a text that could not be handed over sends it once more, and only once", async () => {
    const house = aHouse(acre())
    await house.says(INES, "status", at("2026-05-05 09:00"))
    const key = house.texts[0]?.key ?? ""
    const verdict = { code: "30008", text: "lost", hold: null, again: true, ownFault: false }
    for (let i = 0; i < 3; i += 1)
      await noteFate(house.house, { key, status: "undelivered", verdict }, at("2026-05-05 09:05"))
    await house.at(at("2026-05-05 09:06"))
    const answers = house.texts.filter((text) => text.kind === "answer")
    expect(answers.map((text) => text.key)).toEqual([key, `${key}:again`])
  })
})

describe("a bed that is taken out of the file (C11)", () => {
  it("lets its reminders lapse with that reason; put back it is whole again", async () => {
    const whole = acre({
      people: [aPerson({ email: null, digest: null })],
      beds: [
        aBed({ id: "south", sowings: [aSowing({ bed: "south" })] }),
        aBed({
          id: "east",
          sowings: [aSowing({ bed: "east", planned: day("2026-04-10"), species: [{ id: "oats", share: 1 }] })],
        }),
      ],
    })
    const house = aHouse(whole)
    await house.says(INES, "join", at("2026-04-01 09:00"))
    await play(house, "2026-04-01 10:00", "2026-04-12 20:00", 240)
    expect(house.texts.some((text) => text.told.some((told) => told.bed === "east"))).toBe(true)
    const without = { ...whole, beds: whole.beds.slice(0, 1) }
    house.house.shelf = { all: () => [without], byId: () => without, version: () => 2 }
    await play(house, "2026-04-13 08:00", "2026-05-12 20:00", 240)
    const lapsed = (await house.log()).filter((entry) => entry.kind === "lapsed" && entry.of.startsWith("east:"))
    expect(lapsed.map((entry) => entry.kind === "lapsed" && entry.because)).toContain("it is in the plan no more")
    house.house.shelf = { all: () => [whole], byId: () => whole, version: () => 3 }
    await house.at(at("2026-05-13 08:00"))
    expect(house.house.memory.views.get("acre")?.view.plan.beds.map((bed) => bed.bed)).toEqual(["south", "east"])
  })
})

describe("a photo without words (P26)", () => {
  it("is kept at once, and asked about", async () => {
    const house = aHouse(acre())
    await house.says(INES, "", at("2026-04-01 09:00"), { media: [{ url: "a.jpg", type: "image/jpeg" }] })
    expect(house.texts.at(-1)?.text).toContain("Photo kept. Which bed does it show")
    expect(await house.log()).toContainEqual(expect.objectContaining({ kind: "reply", photos: ["a.jpg"], note: true }))
  })
})

describe("a number in an old text (P16)", () => {
  it("stays with its reminder when a newer text has numbers of its own", async () => {
    const house = aHouse(
      acre({
        people: [aPerson({ email: null, digest: null })],
        beds: [
          aBed({ id: "a", sowings: [aSowing({ bed: "a" })] }),
          aBed({
            id: "b",
            sowings: [aSowing({ bed: "b", planned: day("2026-04-20"), species: [{ id: "oats", share: 1 }] })],
          }),
        ],
      }),
    )
    await house.says(INES, "join", at("2026-04-01 09:00"))
    await play(house, "2026-04-02 08:00", "2026-04-24 20:00", 240)
    const told = house.texts.flatMap((text) => text.told)
    const [first, last] = [told[0], told.at(-1)]
    expect(last?.id).not.toBe(first?.id)
    await house.says(INES, `skip ${first?.n}`, at("2026-04-25 12:00"))
    const records = house.house.memory.views.get("acre")?.view.history.reminders
    expect(records?.get(first?.id ?? "")?.settled?.how).toBe("skipped")
    expect(records?.get(last?.id ?? "")?.settled).toBeNull()
  })
})
