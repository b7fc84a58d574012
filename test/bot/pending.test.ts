import { describe, expect, it, onTestFinished } from "vitest"
import { freshMemory } from "../../src/bot/house.ts"
import { receive } from "../../src/bot/receive.ts"
import type { EntryOf } from "../../src/garden/entry.ts"
import { openStore } from "../../src/store/open.ts"
import type { Instant } from "../../src/values/instant.ts"
import { aBed, aGarden, aPerson, aSowing, at } from "../given.ts"
import { temporaryFolders } from "../store/folders.ts"
import { aHouse, every } from "./given-house.ts"

const INES = "+17175550142"
const TOM = "+17175550143"
const folder = temporaryFolders()

/**
 * Two people, two beds of rye and vetch, and a store in a folder: on 20 May both were sent the same text, in which each
 * has a cut to answer.
 */
async function inMay() {
  const data = folder()
  const one = aHouse(
    aGarden({
      people: [
        aPerson({ email: null, digest: null }),
        aPerson({ id: "tom", name: "Tom", phone: TOM, email: null, digest: null }),
      ],
      beds: ["south", "north"].map((bed) => aBed({ id: bed, sowings: [aSowing({ bed })] })),
    }),
  )
  let store = await openStore({ folder: data })
  one.house.store = store
  onTestFinished(() => store.close())
  await one.says(INES, "join", at("2026-05-19 19:00"))
  await one.says(TOM, "join", at("2026-05-19 19:05"))
  for (const now of every(60, at("2026-05-20 08:00"), at("2026-05-20 11:00"))) await one.at(now)
  const asked = one.texts.findLast((text) => text.to === INES)?.text ?? ""
  return {
    ...one,
    asked,
    /** Of a cut of that bed: its number in the text that went out. */
    numberOf: (bed: string) => Number(new RegExp(`(\\d+)\\) ${bed} bed can be cut`).exec(asked)?.[1]),
    /** The process ends, and another opens what it left. */
    async restart() {
      await store.close()
      store = await openStore({ folder: data })
      one.house.store = store
      one.house.memory = freshMemory()
    },
    async replies(by: string) {
      const entries = await one.house.store.entries(one.house.shelf.all()[0]?.id ?? "")
      return entries.filter((entry): entry is EntryOf<"reply"> => entry.kind === "reply" && entry.by === by)
    },
    answersTo: (phone: string, since: Instant) =>
      one.texts
        .filter((text) => text.to === phone && text.kind === "answer" && text.at >= since)
        .map(({ text }) => text),
    aboutCuts: (phone: string, since: Instant) =>
      one.texts.filter((text) => text.to === phone && text.kind === "nudge" && text.at > since).map(({ text }) => text),
  }
}

describe("a question that was asked back", () => {
  it("outlives the process: its answer completes the text that was unclear", async () => {
    const may = await inMay()
    await may.says(INES, "cut it this morning", at("2026-05-20 12:00"))
    const [north, south] = [may.numberOf("North"), may.numberOf("South")]
    const asking = (await may.replies("ines")).at(-1)
    expect(asking).toMatchObject({ acts: [], ask: { which: "reminder", choices: [north, south] } })
    await may.restart()
    await may.says(INES, String(south), at("2026-05-20 12:10"))
    expect((await may.replies("ines")).at(-1)?.acts).toEqual([{ act: "done", n: [south], on: "2026-05-20" }])
    expect(may.answersTo(INES, at("2026-05-20 12:05"))).toEqual([expect.stringContaining("South bed")])
    expect(may.answersTo(TOM, at("2026-05-20 12:00"))).toEqual([])
  })

  it("takes the name of the bed for an answer too, on the next day, and keeps the day on which the words were said", async () => {
    const may = await inMay()
    await may.says(INES, "mowed this evening", at("2026-05-20 19:00"))
    await may.restart()
    await may.says(INES, "the north one", at("2026-05-21 07:30"))
    expect((await may.replies("ines")).at(-1)?.acts).toEqual([
      { act: "done", n: [may.numberOf("North")], on: "2026-05-20" },
    ])
  })

  it.each(["1", "2", "the north one", "south", "both", "yes, south"])(
    "is not answered by %j two days later: nothing is settled",
    async (late) => {
      const may = await inMay()
      await may.says(INES, "cut it", at("2026-05-20 12:00"))
      await may.restart()
      await may.says(INES, late, at("2026-05-22 12:00"))
      expect((await may.replies("ines")).at(-1)?.acts).toEqual([])
      const log = await may.house.store.entries(may.house.shelf.all()[0]?.id ?? "")
      expect(log.some((entry) => entry.kind === "reply" && entry.acts.some(({ act }) => act === "done"))).toBe(false)
    },
  )

  it("is only its own person's: what the other says is read by itself", async () => {
    const may = await inMay()
    await may.says(INES, "cut it", at("2026-05-20 12:00"))
    await may.says(TOM, String(may.numberOf("South")), at("2026-05-20 12:05"))
    expect((await may.replies("tom")).at(-1)?.acts).toEqual([])
    await may.says(INES, String(may.numberOf("South")), at("2026-05-20 12:10"))
    expect((await may.replies("ines")).at(-1)?.acts).toMatchObject([{ act: "done", n: [may.numberOf("South")] }])
  })

  it("is dropped for a stop", async () => {
    const may = await inMay()
    await may.says(INES, "cut it", at("2026-05-20 12:00"))
    await may.restart()
    await may.says(INES, "stop", at("2026-05-20 12:10"))
    expect((await may.replies("ines")).at(-1)?.acts).toEqual([{ act: "stop" }])
  })
})

describe("two people of a household who answer the same reminder", () => {
  it("settle it once; each is told once, the second who did it first", async () => {
    const may = await inMay()
    const north = may.numberOf("North")
    await may.says(INES, `done ${north}`, at("2026-05-20 12:00"))
    await may.restart()
    await may.says(TOM, `done ${north}`, at("2026-05-20 12:05"))
    expect(may.answersTo(INES, at("2026-05-20 12:00"))).toEqual([expect.stringContaining("North bed")])
    expect(may.answersTo(TOM, at("2026-05-20 12:00"))).toEqual([expect.stringContaining("Ines")])
    for (const now of every(120, at("2026-05-20 14:00"), at("2026-05-30 20:00"))) await may.at(now)
    for (const phone of [INES, TOM])
      for (const text of may.aboutCuts(phone, at("2026-05-20 12:05")))
        expect(text).not.toMatch(/North bed (can be cut|again|passed)/)
  })

  it("at the same moment settle it once too", async () => {
    const may = await inMay()
    const north = may.numberOf("North")
    const now = at("2026-05-20 12:00")
    for (const [id, from] of [
      ["SMa", INES],
      ["SMb", TOM],
    ] as const)
      await receive(may.house, { id, via: "sms", from, to: "+17175550100", text: `done ${north}`, at: now, media: [] })
    await may.at(now)
    await may.restart()
    await may.at(at("2026-05-20 12:10"))
    expect(may.answersTo(INES, now)).toHaveLength(1)
    expect(may.answersTo(TOM, now)).toEqual([expect.stringContaining("Ines")])
    const done = [...(await may.replies("ines")), ...(await may.replies("tom"))].filter(({ acts }) => acts.length > 0)
    expect(done.map(({ by }) => by)).toContain("ines")
  })

  it("each keep the others: what one did leaves the rest open for both", async () => {
    const may = await inMay()
    await may.says(INES, `done ${may.numberOf("North")}`, at("2026-05-20 12:00"))
    await may.says(TOM, "cut it", at("2026-05-20 12:30"))
    expect((await may.replies("tom")).at(-1)?.acts).toEqual([
      { act: "done", n: [may.numberOf("South")], on: "2026-05-20" },
    ])
  })
})
