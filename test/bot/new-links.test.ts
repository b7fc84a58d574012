import { describe, expect, it } from "vitest"
import { linksRenewed, renewLinks } from "../../src/bot/new-links.ts"
import { sendDue } from "../../src/bot/send.ts"
import { linksFor } from "../../src/web/link.ts"
import { withoutTokens } from "../../src/wording/new-links.ts"
import { measure } from "../../src/wording/segments.ts"
import { aBed, aGarden, aPerson, aSowing, at } from "../given.ts"
import { aHouse, every } from "./given-house.ts"

const KEY = ["a key of the tests, long enough"] as const
const NOW = at("2026-05-10 12:00")

function aServedHouse(known: Parameters<typeof aPerson>[0] = {}) {
  const garden = aGarden({
    people: [aPerson(known)],
    beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })],
  })
  const one = aHouse(garden)
  one.house.links = (g, person) =>
    linksFor("https://garden.example.org", { garden: g.id, person: person.id }, one.house.clock.now(), KEY)
  const [person] = garden.people as [NonNullable<(typeof garden.people)[number]>]
  return { ...one, garden, person }
}

describe("new links", () => {
  it("go to the person's own mail and end the older ones; the log keeps no link", async () => {
    const { house, garden, person, mails, at: tick, log } = aServedHouse({ email: "ines@example.org" })
    await tick(NOW)
    expect(await linksRenewed(house, garden.id, person.id)).toBeNull()
    expect(await renewLinks(house, { garden, person }, NOW)).toBe("mail")
    await sendDue(house, NOW)
    const mail = mails.at(-1)
    expect(mail?.to).toBe("ines@example.org")
    expect(mail?.text).toContain("https://garden.example.org/season/")
    expect(mail?.text).toContain(".ics")
    expect(await linksRenewed(house, garden.id, person.id)).toBe(NOW)
    const written = JSON.stringify(await log())
    expect(written).toContain("https://garden.example.org/season/***")
    expect(written).not.toMatch(/\/season\/[A-Za-z0-9]/)
  })

  it("go by text where there is no mail, in two segments at most", async () => {
    const { house, garden, person, texts, at: tick, says } = aServedHouse({ email: null, digest: null })
    await says(person.phone as string, "join", NOW)
    await tick(NOW)
    expect(await renewLinks(house, { garden, person }, NOW)).toBe("text")
    await sendDue(house, NOW)
    expect(texts.at(-1)?.text).toMatch(/^Your new Ryebell page: https:\/\/garden\.example\.org\/season\/\S+ Older/)
    expect(measure(texts.at(-1)?.text ?? "").segments).toBeLessThanOrEqual(2)
  })

  it("change nothing where they could not be sent: stopped, or never asked for texts", async () => {
    const { house, garden, person, says } = aServedHouse({ email: null, digest: null })
    expect(await renewLinks(house, { garden, person }, NOW)).toBeNull()
    await says(person.phone as string, "join", NOW)
    await says(person.phone as string, "stop", NOW)
    expect(await renewLinks(house, { garden, person }, NOW)).toBeNull()
    expect(await linksRenewed(house, garden.id, person.id)).toBeNull()
  })

  it("are struck out wherever a link stands in words", () => {
    const links = linksFor("http://127.0.0.1:8080", { garden: "a", person: "b" }, NOW, KEY)
    expect(withoutTokens(`see ${links.season} and ${links.calendar}, ${links.stop}`)).toBe(
      "see http://127.0.0.1:8080/season/*** and http://127.0.0.1:8080/calendar/***.ics, http://127.0.0.1:8080/mail/***/stop",
    )
  })
})

describe("mails that nobody asked for at that moment", () => {
  it("can all be ended by one press and by a mail, the short ones too (RFC 2369, RFC 8058)", async () => {
    const {
      house,
      mails,
      at: tick,
    } = aServedHouse({
      email: "ines@example.org",
      by: "mail",
      digest: { day: "sunday", at: 720 },
    })
    house.stopAddress = "stop@example.org"
    for (const now of every(240, at("2026-05-01 08:00"), at("2026-05-18 08:00"))) await tick(now)
    expect(new Set(mails.map((mail) => mail.kind))).toEqual(new Set(["nudge", "digest"]))
    for (const mail of mails) {
      expect(mail.headers?.["List-Unsubscribe"]).toMatch(
        /^<https:\/\/garden\.example\.org\/mail\/\S+\/stop>, <mailto:stop@example\.org\?subject=stop>$/,
      )
      expect(mail.headers?.["List-Unsubscribe-Post"]).toBe("List-Unsubscribe=One-Click")
    }
  })
})
