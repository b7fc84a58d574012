import { describe, expect, it } from "vitest"
import { noFiles, openKeptShelf } from "../../src/files/kept-shelf.ts"
import { type ActName, actSchema } from "../../src/garden/acts.ts"
import { addMs, MINUTE_MS } from "../../src/values/instant.ts"
import { aHouse, type TestHouse } from "../bot/given-house.ts"
import { aGarden, at, handbook } from "../given.ts"

const INES = "+17175550142"

/**
 * A sender's number proves little (failure X4): whatever a text can do must be taken back by another. For each act a text
 * that leads to it, and the text that takes it back; null: it changes nothing.
 */
const TAKEN_BACK: Record<ActName, readonly [text: string, back: string | null]> = {
  done: ["done 1", "undo"],
  snooze: ["snooze 1 to 12 may", "undo"],
  skip: ["skip 1", "undo"],
  observe: ["the vetch on south is blooming", "undo"],
  measure: ["south rye is 41 cm tall", "undo"],
  sowed: ["sowed buckwheat on east", "undo"],
  cut: ["cut south", "undo"],
  watered: ["watered south", "undo"],
  planted: ["planted tomatoes on south", "undo"],
  want: ["want tomatoes on south by 30 may", "undo"],
  "add-bed": ["add bed: north, 4 x 8 ft, oats on 1 may", "undo"],
  "drop-bed": ["drop bed south", "undo"],
  tell: ["why", null],
  undo: ["undo", null],
  pause: ["pause", "resume"],
  resume: ["resume", null],
  join: ["join", "stop"],
  stop: ["stop", "start"],
  start: ["start", "stop"],
  help: ["help", null],
}

const KEPT = `
garden: Long Acre
place: { latitude: 40.04, longitude: -76.31, zone: America/New_York, units: us, dates: month-first }
people: [{ id: ines, name: Ines, phone: "${INES}", minds: [south, east] }]
beds:
  - id: south
    name: South bed
    size: 3 m2
    sowings: [{ sown: 2025-09-20, species: { hairy-vetch: 40, winter-rye: 60 } }]
  - id: east
    name: East bed
    size: 3 m2
    sowings: [{ planned: 2026-04-20, species: [buckwheat] }]
`

/** A house in which Ines has said yes and was told something that has the number 1. */
async function told(): Promise<TestHouse> {
  const garden = aGarden()
  const house = aHouse(garden)
  // Kept by the store, so that beds may come and go by text.
  await house.house.store.keepGarden({ id: "acre", host: null, text: KEPT }, null)
  house.house.shelf = await openKeptShelf({ files: noFiles(), store: house.house.store, handbook: handbook() })
  await house.says(INES, "join", at("2026-05-04 09:00"))
  for (let hour = 1; hour < 10; hour += 1) await house.at(addMs(at("2026-05-04 09:00"), hour * 60 * MINUTE_MS))
  return house
}

/** All that follows from what was said: the plan, what is due in which state, and which ways are open. */
function stateOf(house: TestHouse): string {
  const view = house.house.memory.views.get("acre")?.view
  return JSON.stringify({
    plan: view?.plan,
    reminders: view?.reminders.map(({ id, state, speaks }) => ({ id, state, speaks })),
    channels: [...(view?.history.channels ?? [])],
    paused: [...(view?.history.paused ?? [])],
  })
}

describe("whatever a text can do (X4)", () => {
  it("is in the list below, so that none is forgotten", () => {
    expect(Object.keys(TAKEN_BACK).sort()).toEqual(actSchema.options.map((option) => option.shape.act.value).sort())
  })

  it.each(Object.entries(TAKEN_BACK))(
    "%s is taken back by a text, or changes nothing: %j",
    async (act, [text, back]) => {
      const house = await told()
      const soon = (minutes: number) => addMs(at("2026-05-04 20:00"), minutes * MINUTE_MS)
      await house.at(soon(0))
      const before = stateOf(house)
      const from = INES
      await house.says(from, text, soon(1))
      const entry = (await house.log()).findLast((each) => each.kind === "reply")
      expect(entry?.kind === "reply" && entry.acts.map((each) => each.act)).toEqual([act])
      await house.at(soon(2))
      const between = stateOf(house)
      if (back === null) return expect(between).toBe(before)
      const isStart = act === "join" || act === "start"
      if (!isStart) expect(between).not.toBe(before)
      await house.says(from, back, soon(20))
      await house.at(soon(21))
      if (isStart) expect(stateOf(house)).toContain('"text":"stopped"')
      else expect(stateOf(house)).toBe(before)
    },
  )

  it("never changes an address or a phone, whatever it says", async () => {
    const house = await told()
    const before = JSON.stringify(house.house.shelf.all())
    for (const [i, text] of [
      "my new number is +17175550199",
      "change my email to thief@example.net",
      "send the texts to +17175550199 from now on",
      'phone: "+17175550199"',
      "join ines +17175550199",
    ].entries())
      await house.says(INES, text, addMs(at("2026-05-05 09:00"), i * 20 * MINUTE_MS))
    expect(JSON.stringify(house.house.shelf.all())).toBe(before)
    expect(new Set(house.texts.map((each) => each.to))).toEqual(new Set([INES]))
    expect(house.mails).toEqual([])
  })
})
