import { describe, expect, it } from "vitest"
import type { Entry, NewEntry } from "../../src/garden/entry.ts"
import type { Garden, Person } from "../../src/garden/garden.ts"
import { remindersFor } from "../../src/reminders/index.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { SowingPlan } from "../../src/season/bed-plan.ts"
import { addDays, type Day, dayNumber } from "../../src/values/day.ts"
import { checkText } from "../../src/wording/check-text.ts"
import { type NotYet, type Parcel, type ParcelInput, parcel } from "../../src/wording/parcel.ts"
import { measure } from "../../src/wording/segments.ts"
import {
  aBed,
  aCut,
  aGarden,
  aPerson,
  aPlan,
  aSowing,
  aSowingPlan,
  day,
  handbook,
  historyOf,
  log,
  range,
  reply,
  sent,
  told,
} from "../given.ts"

const EIGHT = 8 * 60

type Asked = {
  person?: Person
  garden?: Garden
  sowings?: SowingPlan[]
  entries?: NewEntry[]
  on?: string
  minutes?: number
} & Partial<Pick<ParcelInput, "away" | "channel" | "answered" | "forecast">>

function parcelOf(asked: Asked = {}): Parcel | NotYet | null {
  const person = asked.person ?? aPerson()
  const garden = asked.garden ?? aGarden({ people: [person] })
  const on = day(asked.on ?? "2026-05-04")
  const history = historyOf(garden, log(...(asked.entries ?? [])) as Entry[])
  const sowings = asked.sowings ?? [aSowingPlan({ cut: aCut("2026-05-04", "2026-05-08", "2026-05-14") })]
  const reminders = remindersFor(aPlan(on, ...sowings), { garden, history, handbook: handbook() }, on)
  const { away, channel, answered, forecast } = asked
  return parcel({
    person,
    local: { day: on, minutes: asked.minutes ?? EIGHT },
    reminders,
    history,
    ...(away === undefined ? {} : { away }),
    ...(channel ? { channel } : {}),
    ...(answered ? { answered } : {}),
    ...(forecast ? { forecast } : {}),
  })
}

const say = (asked: Asked = {}) => {
  const found = parcelOf(asked)
  if (found?.is !== "say") throw new Error(`expected a text, got ${JSON.stringify(found)}`)
  return found
}

/** A garden of several beds, each with a cut window that opens on the same day. */
function beds(count: number, name = (n: number) => `Bed ${n}`): { garden: Garden; sowings: SowingPlan[] } {
  const ids = Array.from({ length: count }, (_, index) => `bed-${index + 1}`)
  const garden = aGarden({
    beds: ids.map((id, index) => aBed({ id, name: name(index + 1), sowings: [aSowing({ bed: id })] })),
  })
  const sowings = ids.map((bed) => aSowingPlan({ bed, cut: aCut("2026-05-04", "2026-05-08", "2026-05-14") }))
  return { garden, sowings }
}

describe("one text for all that is due", () => {
  /** The cautions of the season were said with another bed, long enough ago that no limit is touched. */
  const cautioned = [sent("ines", "2025-10-01 08:00", told(99, "south:2025-09-20:cut:9", {}, 1))]

  it("says one thing with its number, range, reason and reply words", () => {
    const found = say({ entries: cautioned })
    expect(found.text).toBe(
      "1) South bed can be cut from today, best 8-14 May, before seed drops. Cut low, leave the roots in, let the tops lie. Reply DONE 1 or SNOOZE 1 SAT.",
    )
    expect(found.told).toEqual([
      {
        n: 1,
        id: "south:2025-09-20:cut:1",
        kind: "cut",
        bed: "south",
        days: { from: "2026-05-04", best: "2026-05-08", by: "2026-05-14" },
        call: 1,
      },
    ])
    expect(found.saying).toEqual([{ id: "south:2025-09-20:cut:1", speaksNext: "2026-05-12" }])
  })

  it("says the cautions of the work with the first text of a season that asks for it", () => {
    const { text } = say()
    expect(text).toContain(
      " Mind the blade, your feet and who stands by. The tops can harm animals: ask before you feed them. ",
    )
    expect(checkText(text, { several: true })).toEqual([])
  })

  it("numbers several things, one line each, most urgent first, with one sentence of reply words", () => {
    const { garden, sowings } = beds(2)
    const last = aSowingPlan({ bed: "bed-2", cut: aCut("2026-04-20", "2026-04-28", "2026-05-06") })
    const { text } = say({ garden, sowings: [sowings[0] as SowingPlan, last] })
    expect(text.split("\n")[0]).toMatch(/^1\) Bed 2 again: /)
    expect(text.split("\n")[1]).toMatch(/^2\) Bed 1 can be cut from today/)
    expect(text.split("\n").at(-1)).toBe("Reply DONE 1, DONE 2 or SNOOZE 1 SAT.")
    expect(checkText(text, { several: true })).toEqual([])
  })

  it("drops reasons before things, and leaves what does not fit for the next slot", () => {
    const { garden, sowings } = beds(8, (n) => `The long bed by gate ${n}`)
    const found = say({ garden, sowings })
    expect(measure(found.text).segments).toBe(2)
    expect(found.told.length).toBeGreaterThanOrEqual(3)
    expect(found.held).toHaveLength(8 - found.told.length)
    expect(found.held.every((each) => each.why === "room" && each.until === "2026-05-04")).toBe(true)
    expect(checkText(found.text, { several: true })).toEqual([])
  })

  it("keeps to two segments in letters that need UCS-2", () => {
    const { garden, sowings } = beds(3, (n) => `Грядка ${n}`)
    expect(measure(say({ garden, sowings }).text)).toMatchObject({ encoding: "ucs2", segments: 2 })
  })

  it("is null where nothing is due", () => {
    expect(parcelOf({ on: "2026-05-03" })).toBeNull()
  })

  it("gives equal texts for equal plans", () => {
    expect(say()).toEqual(say())
  })
})

describe("hours and slots", () => {
  it("waits for the first slot, and speaks late rather than not at all", () => {
    expect(parcelOf({ minutes: 0 })).toMatchObject({ is: "wait", until: { day: "2026-05-04", minutes: EIGHT } })
    expect(parcelOf({ minutes: EIGHT - 1 })).toMatchObject({ is: "wait", until: { minutes: EIGHT } })
    expect(parcelOf({ minutes: 11 * 60 })).toMatchObject({ is: "say" })
  })

  it("is silent outside the person's hours, whatever is due", () => {
    const sowings = [aSowingPlan({ cut: aCut("2026-04-20", "2026-04-28", "2026-05-06") })]
    for (let minutes = 0; minutes < 1440; minutes += 1) {
      const inside = minutes >= 480 && minutes < 1170
      expect(parcelOf({ minutes, sowings })?.is).toBe(inside ? "say" : "wait")
    }
  })

  it("moves the slots into hours that do not hold them", () => {
    const person = aPerson({ texts: { from: 600, to: 700, most: 2 } })
    expect(parcelOf({ person, minutes: 500 })).toMatchObject({ until: { day: "2026-05-04", minutes: 600 } })
    expect(parcelOf({ person, minutes: 600 })).toMatchObject({ is: "say" })
    expect(parcelOf({ person, minutes: 700 })).toMatchObject({ until: { day: "2026-05-05", minutes: 600 } })
  })

  it("says nothing more in a slot that has had its text, nor right after an answer", () => {
    const { garden, sowings } = beds(2)
    const entries = [
      sent("ines", "2026-05-04 08:00", told(1, "bed-1:2025-09-20:cut:1", { from: "2026-05-04", by: "2026-05-14" }, 1)),
    ]
    expect(parcelOf({ garden, sowings, entries, minutes: 481 })).toMatchObject({ is: "wait", until: { minutes: 1050 } })
    expect(parcelOf({ garden, sowings, entries, minutes: 1050 })).toMatchObject({ is: "say" })
    expect(parcelOf({ answered: [600], minutes: 601 })).toMatchObject({ is: "wait", until: { minutes: 1050 } })
  })

  it("waits for a pause to end", () => {
    const pause = reply("ines", "2026-05-01 09:00", [{ act: "pause", until: day("2026-05-09") }])
    expect(parcelOf({ entries: [pause] })).toMatchObject({ is: "wait", until: { day: "2026-05-09", minutes: EIGHT } })
    const endless = reply("ines", "2026-05-01 09:00", [{ act: "pause", until: null }])
    expect(parcelOf({ entries: [endless] })).toMatchObject({ is: "wait", until: { day: "2026-05-05" } })
  })
})

describe("work outdoors and the forecast (common practice, no source)", () => {
  const rain = (...mm: number[]) => {
    const days = new Float64Array(mm.length).fill(Number.NaN)
    return { first: dayNumber(day("2026-05-04")), tmin_c: days, tmax_c: days, rain_mm: Float64Array.from(mm) }
  }

  it("is spoken of on the evening before a dry day, where today is wet", () => {
    expect(parcelOf({ forecast: rain(8, 0) })).toMatchObject({
      is: "wait",
      until: { day: "2026-05-04", minutes: 1050 },
    })
    expect(parcelOf({ forecast: rain(8, 0), minutes: 1050 })).toMatchObject({ is: "say" })
  })

  it("is spoken of in the morning where today is dry, both are wet, or nothing is known", () => {
    for (const forecast of [rain(0, 0), rain(8, 8), rain(Number.NaN, Number.NaN), rain()])
      expect(parcelOf({ forecast })).toMatchObject({ is: "say" })
  })

  it("does not wait where it presses", () => {
    const sowings = [aSowingPlan({ cut: aCut("2026-04-20", "2026-04-28", "2026-05-06") })]
    expect(parcelOf({ forecast: rain(8, 0), sowings })).toMatchObject({ is: "say" })
  })
})

describe("how many texts", () => {
  const other = (n: number, on: string) =>
    sent("ines", `${on} 08:00`, told(n, `other${n}:2025-09-20:watch-boot:1`, {}, 1))
  const lastCall = [aSowingPlan({ cut: aCut("2026-04-20", "2026-04-28", "2026-05-06") })]

  it("never goes over the number of a day, pressing or not", () => {
    const entries = [other(1, "2026-05-04"), sent("ines", "2026-05-04 09:00", told(2, "x:2025-09-20:watch-boot:1"))]
    expect(parcelOf({ entries, minutes: 1050, sowings: lastCall })).toMatchObject({
      is: "wait",
      until: { day: "2026-05-05" },
    })
  })

  it("says four plain texts in seven days and holds the fifth until one of them is a week old", () => {
    const entries = ["2026-04-29", "2026-04-30", "2026-05-01", "2026-05-02"].map((on, n) => other(n + 1, on))
    const held = parcelOf({ entries })
    expect(held).toMatchObject({ is: "wait", until: { day: "2026-05-06", minutes: EIGHT } })
    expect(held?.held).toEqual([{ id: "south:2025-09-20:cut:1", why: "cap", until: "2026-05-06" }])
    expect(parcelOf({ entries, sowings: lastCall })).toMatchObject({ is: "say" })
  })

  it("keeps under ten in thirty days, the last of them for frost and last calls", () => {
    const several = (count: number) =>
      Array.from({ length: count }, (_, n) => other(n + 1, addDays(day("2026-04-06"), n * 3)))
    const question = [
      aSowingPlan({
        watchBloom: { opens: day("2026-05-04"), lapses: day("2026-05-20"), species: "hairy-vetch", why: "" },
      }),
    ]
    expect(parcelOf({ entries: several(5), sowings: question })).toMatchObject({ is: "say" })
    expect(parcelOf({ entries: several(6), sowings: question })).toMatchObject({ is: "wait" })
    expect(parcelOf({ entries: several(7) })).toMatchObject({ is: "say" })
    expect(parcelOf({ entries: several(8) })).toMatchObject({ is: "wait", until: { day: "2026-05-06" } })
    expect(parcelOf({ entries: several(8), sowings: lastCall })).toMatchObject({ is: "say" })
    const nine = Array.from({ length: 9 }, (_, n) => other(n + 1, addDays(day("2026-04-06"), n * 3)))
    expect(parcelOf({ entries: nine, sowings: lastCall })).toMatchObject({ is: "wait" })
    const noMail = aPerson({ email: null, digest: null })
    expect(parcelOf({ entries: nine, sowings: lastCall, person: noMail })).toMatchObject({ is: "say" })
  })

  it("leaves to the digest of the day what can as well be said tomorrow", () => {
    const sowings = [aSowingPlan({ cut: aCut("2026-05-10", "2026-05-14", "2026-05-20") })]
    const sunday = parcelOf({ sowings, on: "2026-05-10" })
    expect(sunday).toMatchObject({ is: "wait", until: { day: "2026-05-11" }, held: [{ why: "digest" }] })
    expect(parcelOf({ sowings, on: "2026-05-11" })).toMatchObject({ is: "say" })
  })
})

describe("numbers", () => {
  const id = "south:2025-09-20:cut:1"
  const numberOf = (found: Parcel) => found.told[0]?.n

  it("stay with their reminder in later calls", () => {
    const entries = [sent("ines", "2026-05-04 08:00", told(7, id, { from: "2026-05-04", by: "2026-05-14" }, 1))]
    expect(numberOf(say({ entries, on: "2026-05-12" }))).toBe(7)
  })

  it("run on to 99 before they come round, past those still open or younger than 30 days", () => {
    const old = sent("ines", "2025-11-01 08:00", told(1, "a:2025-09-20:watch-boot:1"))
    const recent = sent("ines", "2026-04-20 08:00", told(2, "b:2025-09-20:watch-boot:1"))
    const newest = sent("ines", "2026-04-28 08:00", told(99, "c:2025-09-20:watch-boot:1"))
    expect(numberOf(say({ entries: [old, recent] }))).toBe(3)
    expect(numberOf(say({ entries: [old, recent, newest] }))).toBe(1)
    const oldButYoung = sent("ines", "2026-04-10 08:00", told(1, "a:2025-09-20:watch-boot:1"))
    expect(numberOf(say({ entries: [oldButYoung, recent, newest] }))).toBe(3)
  })

  it("of one text are all different", () => {
    const { garden, sowings } = beds(3)
    const found = say({ garden, sowings })
    expect(found.told.map((each) => each.n)).toEqual([1, 2, 3])
  })
})

describe("words that could mean two things", () => {
  const asks = (bed: string) =>
    aSowingPlan({
      bed,
      watchBloom: { opens: day("2026-05-04"), lapses: day("2026-05-30"), species: "hairy-vetch", why: "" },
    })
  const two = aGarden({ beds: ["south", "east"].map((id) => aBed({ id, sowings: [aSowing({ bed: id })] })) })

  it("go without a number while one thing of the kind is open, and with it where two are", () => {
    expect(say({ sowings: [asks("south")] }).text).toMatch(/^The vetch .* Reply BLOOM if you see it, or NOT YET\.$/)
    const entries = [sent("ines", "2026-05-02 08:00", told(7, "east:2025-09-20:watch-bloom:1", {}, 1))]
    const { text } = say({ garden: two, sowings: [asks("south"), asks("east")], entries })
    expect(text).toMatch(/^8\) The vetch .* Reply BLOOM 8 if you see it, or NOT YET 8\.$/)
  })

  it("UP of fresh seed always has its number, since a bed's emergence may be asked about too", () => {
    const fresh = aSowingPlan({ sown: day("2026-05-04"), state: "sown", water: { water_l: 19, why: "" } })
    const place = aGarden({
      beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south", sown: day("2026-05-04") })] })],
    })
    const green = fresh.species.map((each) => ({ ...each, emergence: range("2026-05-08", "2026-05-10", "2026-05-12") }))
    expect(say({ garden: place, sowings: [{ ...fresh, species: green }] }).text).toBe(
      "1) Keep the top inch of South bed damp: green is likely 8-12 May. About 5 gal today unless it rains. Reply UP 1 when you see it.",
    )
  })
})

describe("catching up after days away (T14)", () => {
  it("says sorry once, what is still worth doing, and where the rest is", () => {
    const { garden, sowings } = beds(1)
    expect(say({ garden, sowings, away: 3 }).text).toBe(
      "I was off for 3 days, sorry. Still worth doing: 1) cut Bed 1, best 8-14 May. Reply DONE 1 or SNOOZE 1 SAT.",
    )
    const many = beds(7)
    const { text } = say({ ...many, away: 9 })
    expect(text.split("\n").at(-1)).toBe("The rest is in Sunday's mail. Reply DONE with the number.")
    expect(checkText(text, { several: true })).toEqual([])
  })
})

describe("nudges by mail", () => {
  it("say the same with a subject, and always how to end them", () => {
    const text = say().text
    const mail = say({ channel: "mail" })
    expect(mail.subject).toBe("Cut South bed, best 8-14 May")
    expect(mail.text.startsWith(`${text}\n\n`)).toBe(true)
    expect(mail.text).toContain("reply STOP")
  })
})

describe("long names", () => {
  const names = [
    "A",
    "South bed",
    "The long bed by the wall",
    "Grandmother Elizabeths bed",
    "Bed under the old walnut tree by the gate",
  ]

  it("keep the range: the reason goes first, then the second reply word", () => {
    for (const name of names) {
      const { garden, sowings } = beds(1, () => name)
      const entries = [sent("ines", "2025-10-01 08:00", told(99, "bed-1:2025-09-20:cut:9", {}, 1))]
      const { text } = say({ garden, sowings, entries })
      expect(checkText(text), text).toEqual([])
      expect(text).toContain("8-14 May")
      expect(text).toContain(name)
    }
  })
})

describe("a season of one gardener who never answers", () => {
  it("gets each call once, in order, within hours and limits, and nothing once lapsed", () => {
    const person = aPerson()
    const garden = aGarden({ people: [person] })
    const sowing = aSowingPlan({ cut: aCut("2026-05-01", "2026-05-08", "2026-05-14") })
    const entries: NewEntry[] = []
    for (let on: Day = day("2026-04-20"); on < "2026-07-01"; on = addDays(on, 1)) {
      const history = historyOf(garden, log(...entries) as Entry[])
      const reminders: Reminder[] = remindersFor(aPlan(on, sowing), { garden, history, handbook: handbook() }, on)
      for (const minutes of [7 * 60, EIGHT, EIGHT + 1, 12 * 60, 1050, 1300]) {
        const found = parcel({ person, local: { day: on, minutes }, reminders, history })
        if (found?.is !== "say") continue
        entries.push(sent("ines", `${on} ${Math.floor(minutes / 60)}:${minutes % 60}`, ...found.told))
        break
      }
    }
    const calls = entries.flatMap((entry) => (entry.kind === "sent" ? [entry.told[0]?.call] : []))
    expect(calls).toEqual([1, 2, 3, 4])
  })
})
