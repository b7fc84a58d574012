import { describe, expect, it } from "vitest"
import { fixedShelf } from "../../src/assemble-house.ts"
import { organiserOf, overviewOf, sendOverview } from "../../src/bot/overview.ts"
import { openKeptShelf } from "../../src/files/kept-shelf.ts"
import { newGardenText } from "../../src/garden/new-garden.ts"
import { organiserPage } from "../../src/wording/organiser-page.ts"
import { aBed, aGarden, aPerson, aSowing, at, day, handbook } from "../given.ts"
import { aHouse, every } from "./given-house.ts"

const host = aGarden({
  id: "acre",
  name: "Spring Street",
  invite: "rootwork",
  people: [aPerson(), aPerson({ id: "tom", name: "Tom", phone: "+17175550143", email: "tom@example.org" })],
  beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })],
})
const SAM = "+17175550150"
const SECRET_WORDS = "my knee is bad and the vetch smells of rain"

async function aClub(guests = 1) {
  const house = aHouse(host)
  const { store } = house.house
  for (let i = 1; i <= guests; i += 1) {
    const sowing = {
      on: day("2025-09-20"),
      isSown: true,
      species: [
        { id: "hairy-vetch", share: null },
        { id: "winter-rye", share: null },
      ],
    }
    const text = newGardenText(
      host,
      `Sam's garden ${i}`,
      { id: "keeper", name: "Sam", phone: `+1717555${1000 + i}` },
      { id: "long", name: "Long bed", size: "4 x 8 ft", sowing },
    )
    await store.keepGarden(
      { id: `acre-${i}`, host: "acre", text: i === 1 ? text.replace("+17175551001", SAM) : text },
      null,
    )
  }
  house.house.shelf = await openKeptShelf({ files: fixedShelf(host), store, handbook: handbook() })
  return house
}

describe("what an organiser sees", () => {
  it("is overdue cuts by plot and how people are reached, and never what anybody wrote", async () => {
    const house = await aClub()
    await house.says(SAM, "yes", at("2026-04-01 09:00"))
    for (const now of every(240, at("2026-05-01 07:00"), at("2026-06-20 20:00"))) await house.at(now)
    await house.says(SAM, SECRET_WORDS, at("2026-06-21 09:00"))
    const overview = await overviewOf(house.house, host, at("2026-06-25 09:00"))
    expect(overview.plots).toHaveLength(1)
    expect(overview.plots[0]?.overdue).toMatchObject([{ bed: "Long bed" }])
    expect(overview.plots[0]?.people[0]).toMatchObject({ name: "Sam", text: "open", mail: "none", lastFailed: null })
    expect(overview.plots[0]?.people[0]?.lastSent).not.toBeNull()
    const page = organiserPage(overview)
    expect(page).toMatch(/Long bed: by \d+ \w+, \d+ days over/)
    expect(page).toContain("rootwork")
    expect(page).not.toContain("knee")
    expect(JSON.stringify(overview)).not.toContain("knee")
  })

  it("names a phone that never said yes, and one that is of no use", async () => {
    const house = await aClub(2)
    house.refuses.text = (message) =>
      message.to === SAM ? { is: "failed", code: "30006", text: "landline", hold: "held" } : null
    await house.says(SAM, "yes", at("2026-04-01 09:00"))
    for (const now of every(240, at("2026-05-01 07:00"), at("2026-06-01 20:00"))) await house.at(now)
    const { plots } = await overviewOf(house.house, host, at("2026-06-02 09:00"))
    expect(plots.map((plot) => plot.people[0]?.text)).toEqual(["held", "not confirmed"])
    expect(plots[0]?.people[0]?.lastFailed?.code).toBe("30006")
  })

  it("comes by mail once a week to the first person of the host's file, and to nobody else", async () => {
    const house = await aClub()
    for (const now of every(60, at("2026-05-03 06:00"), at("2026-05-17 20:00"))) await house.at(now)
    const mails = house.mails.filter((mail) => mail.key.startsWith("overview:"))
    expect(mails.map((mail) => mail.to)).toEqual(["ines@example.org", "ines@example.org", "ines@example.org"])
    expect(mails[0]?.headers).toBeDefined()
    await sendOverview(house.house, host, at("2026-05-17 21:00"))
    expect(await house.house.store.queue([])).toEqual([])
    expect(organiserOf(house.house, host)?.id).toBe("ines")
    const guest = house.house.shelf.byId("acre-1")
    expect(guest && organiserOf(house.house, guest)).toBeNull()
  })
})
