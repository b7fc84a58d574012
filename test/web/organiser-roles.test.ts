import { mkdtempSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { webNeeds } from "../../src/assemble-web.ts"
import { openDesk } from "../../src/bot/desk.ts"
import { linksFor, organiserLink, SCOPES, type Scope, signLink } from "../../src/web/link.ts"
import { webApp } from "../../src/web/server.ts"
import { every, type TestHouse } from "../bot/given-house.ts"
import { anOffice, soon, talk } from "../bot/given-office.ts"
import { aBed, aGarden, aPerson, aSowing, at } from "../given.ts"
import { SECRET } from "./pages.ts"

const [SAM, TOM, ANN] = ["+17175550150", "+17175550151", "+17175550152"]
const BASE = "http://localhost"
const SECRET_WORDS = "my knee is bad and the vetch smells of rain"
const host = aGarden({
  id: "acre",
  name: "Spring Street",
  invite: "rootwork",
  people: [aPerson(), aPerson({ id: "walt", name: "Walt", phone: "+17175550143", email: "walt@example.org" })],
  beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })],
})
const JOINING = ["rootwork", "yes", "NAME", "Long bed, 4 x 8 ft", "rye 60, hairy vetch 40, 20 Sep"]

/** Every person there is, with what they are. */
const PEOPLE = [
  { who: { garden: "acre", person: "ines" }, organises: true },
  { who: { garden: "acre", person: "walt" }, organises: false },
  { who: { garden: "acre-1", person: "keeper" }, organises: false },
  { who: { garden: "acre-2", person: "keeper" }, organises: false },
]

/** A club late in June: two people joined, one is tired of texts, one never cut; one began to join and left. */
describe("who may open what", () => {
  const folder = mkdtempSync(join(tmpdir(), "ryebell-roles-"))
  let house: TestHouse
  let needs: ReturnType<typeof webNeeds>

  beforeAll(async () => {
    house = await anOffice(host)
    house.house.stopAddress = "bot@example.org"
    for (const [phone, name] of [
      [SAM, "Sam"],
      [TOM, "Tom"],
    ] as const)
      await talk(house, phone, ...JOINING.map((text) => (text === "NAME" ? name : text)))
    await talk(house, ANN, "rootwork", "yes", "Ann")
    await talk(house, SAM, "mail sam@example.org")
    const code = /LINK (\d{6})/.exec(house.mails.at(-1)?.text ?? "")?.[1]
    await talk(house, SAM, `LINK ${code}`)
    await house.says(SAM, SECRET_WORDS, soon(), { media: [{ url: "photo-1.jpg", type: "image/jpeg" }] })
    house.refuses.text = (message) =>
      message.to === TOM ? { is: "failed", code: "30006", text: "a landline", hold: "held" } : null
    for (const now of every(240, at("2026-04-02 07:00"), at("2026-06-20 20:00"))) await house.at(now)
    await house.says(SAM, "STOP", at("2026-06-20 20:30"))
    const parts = { house: house.house, clock: house.house.clock, folder, secret: SECRET, host: "127.0.0.1", port: 0 }
    const desk = openDesk(house.house, house.house.clock)
    needs = webNeeds({ ...parts, desk, publicUrl: null, wire: { more: undefined, trouble: () => ({}) } })
  }, 120_000)
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  /** A fresh app each time: many wrong addresses in a minute would be slowed down. */
  const visit = (path: string, method = "GET") =>
    webApp(needs).request(`${BASE}${path}`, {
      method,
      ...(method === "POST"
        ? { body: "word=DONE", headers: { "content-type": "application/x-www-form-urlencoded", origin: BASE } }
        : {}),
    })
  /** Every route that takes a token, with that token in its place. */
  const routesWith = (token: string) =>
    webApp(needs)
      .routes.filter(({ path }) => /:token|:file/.test(path))
      .map(({ method, path }) => ({
        method,
        path: path
          .replace(":token", token)
          .replace(":file", `${token}.ics`)
          .replace(":bed", "long-bed")
          .replace(":reminder", "long-bed:2025-09-20:cut:1")
          .replace(":name", "photo-1.jpg"),
        scope: { season: "season", calendar: "calendar", mail: "stop", organiser: "organiser" }[
          path.split("/")[1] ?? ""
        ] as Scope | undefined,
      }))

  it("is held by every route that takes a link: it opens to its own kind of link and to no other", async () => {
    const now = house.house.clock.now()
    const before = JSON.stringify(await house.log("acre-1"))
    let [opened, refused] = [0, 0]
    for (const { who } of PEOPLE) {
      for (const scope of SCOPES) {
        for (const { method, path, scope: own } of routesWith(signLink(scope, who, now, [SECRET]))) {
          expect(own, `a route of a kind that nobody thought of: ${path}`).toBeDefined()
          if (own === scope) {
            opened += 1
            continue
          }
          refused += 1
          expect((await visit(path, method)).status, `${method} ${path} by a ${scope} link`).toBe(404)
        }
      }
    }
    expect(opened).toBeGreaterThan(20)
    expect(refused).toBeGreaterThan(100)
    expect(JSON.stringify(await house.log("acre-1"))).toBe(before)
  })

  it("opens the organiser's page to the organiser, and to no gardener even by a link of its own kind", async () => {
    const now = house.house.clock.now()
    for (const { who, organises } of PEOPLE) {
      const path = new URL(organiserLink(BASE, who, now, [SECRET])).pathname
      expect((await visit(path)).status, `${who.garden}/${who.person}`).toBe(organises ? 200 : 404)
      expect((await visit(new URL(linksFor(BASE, who, now, [SECRET]).season).pathname)).status).toBe(200)
    }
  })

  it("shows the organiser overdue cuts by plot and who is not reached, and never words, pictures, phones or addresses", async () => {
    const now = house.house.clock.now()
    const path = new URL(organiserLink(BASE, { garden: "acre", person: "ines" }, now, [SECRET])).pathname
    const mails = house.mails.filter((mail) => mail.key.startsWith("overview:"))
    expect(mails.length).toBeGreaterThan(8)
    expect(new Set(mails.map(({ to }) => to))).toEqual(new Set(["ines@example.org"]))
    const page = await (await visit(path)).text()
    expect(page).toMatch(/2 plots, 2 people; 2 cuts overdue, 1 not reached/)
    for (const shown of [page, mails.at(-1)?.text ?? ""]) {
      for (const name of ["Sam", "Tom"])
        expect(shown).toMatch(new RegExp(`${name}.{1,6}s garden.*Long bed: by \\d+ \\w+`, "s"))
      expect(shown).toMatch(/texts: nothing arrives any more; last failure: 30006/)
      for (const never of ["knee", "photo-1", SAM, TOM, ANN, "5550150", "sam@example.org", "Ann", "20 Sep", "JOIN"])
        expect(shown.includes(never), never).toBe(false)
    }
    expect(page).toContain("mail that word to bot@example.org")
  })
})
