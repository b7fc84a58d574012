import { readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { fixedShelf, paperHouse } from "../../src/assemble-house.ts"
import type { Incoming, Outgoing } from "../../src/bot/needs.ts"
import { play, playClock } from "../../src/bot/play.ts"
import { personRef } from "../../src/bot/who.ts"
import { moveYears } from "../../src/garden/example-file.ts"
import type { Garden } from "../../src/garden/garden.ts"
import { readGarden } from "../../src/garden/read.ts"
import { openHandbook } from "../../src/handbook/open.ts"
import { openMemoryStore } from "../../src/store/open.ts"
import { addDays, type Day, day, daysBetween } from "../../src/values/day.ts"
import { type Instant, instantOf } from "../../src/values/instant.ts"
import { instantAt, localDay, localMinutes } from "../../src/values/zone.ts"

const handbook = openHandbook(new URL("../../shared/", import.meta.url))

function garden(file: string): Garden {
  const read = readGarden(readFileSync(new URL(`../../config/${file}`, import.meta.url), "utf8"), file, handbook)
  if (!("garden" in read)) throw new Error(JSON.stringify(read.problems))
  return read.garden
}

/** A garden whose year is sown three times over. */
function threeYears(one: Garden): Garden {
  const years = [0, 1, 2].map((years) => moveYears(one, years))
  return {
    ...one,
    beds: one.beds.map((bed, index) => ({ ...bed, sowings: years.flatMap((each) => each.beds[index]?.sowings ?? []) })),
  }
}

type Sent = { at: Instant; message: Outgoing }

async function played(one: Garden, from: string, to: string, replies: Incoming[]) {
  const clock = playClock(instantAt(day(from), 0, one.place.zone))
  const store = openMemoryStore()
  const sent: Sent[] = []
  const quiet = {
    debug() {},
    info() {},
    warn() {},
    error: (what: unknown, message: string) => {
      throw new Error(`${message}: ${JSON.stringify(what)}`)
    },
  }
  const house = paperHouse({ handbook, store, shelf: fixedShelf(one), clock, weather: null, log: quiet }, (each) =>
    sent.push(each),
  )
  await play(house, clock, day(from), day(to), replies)
  return { sent, entries: await store.entries(one.id), view: house.memory.views.get(one.id)?.view }
}

const longAcre = threeYears(garden("garden.yaml"))
const [FROM, TO] = ["2025-08-01", "2028-07-31"]

/** Everyone answers every third numbered text with done, on the evening it came. */
function someDone(sent: readonly Sent[]): Incoming[] {
  return sent
    .filter(({ message }) => message.kind === "nudge" && message.channel === "text")
    .filter((_, index) => index % 3 === 0)
    .map(({ at, message }, index) => ({
      id: `r${index}`,
      via: "terminal" as const,
      from: personRef(message.garden, message.person),
      to: "",
      text: `done ${message.told[0]?.n}`,
      at: instantOf(at + 10 * 3_600_000),
      media: [],
    }))
}

describe("three years of the example garden, clock changes and all", async () => {
  const first = await played(longAcre, FROM, TO, [])
  const second = await played(longAcre, FROM, TO, someDone(first.sent))
  for (const [name, { sent, entries, view }] of [
    ["with nobody answering", first],
    ["with some answers", second],
  ] as const) {
    describe(name, () => {
      const nudges = sent.filter(({ message }) => message.kind === "nudge")
      const people = new Map(longAcre.people.map((person) => [person.id, person]))

      it("speaks often enough to be of use", () => {
        expect(nudges.length).toBeGreaterThan(60)
      })

      it("never outside a person's hours", () => {
        for (const { at, message } of nudges) {
          const person = people.get(message.person)!
          const minutes = localMinutes(at, person.zone)
          expect(minutes, `${message.key} at ${minutes}`).toBeGreaterThanOrEqual(person.texts.from)
          expect(minutes, `${message.key} at ${minutes}`).toBeLessThan(person.texts.to)
        }
      })

      it("under ten in any thirty days, and no more a day than the person allows", () => {
        for (const person of longAcre.people) {
          const days = nudges
            .filter(({ message }) => message.person === person.id)
            .map(({ at }) => localDay(at, person.zone))
          for (const start of days) {
            expect(days.filter((each) => each >= start && daysBetween(start, each) < 30).length).toBeLessThan(10)
            expect(days.filter((each) => each === start).length).toBeLessThanOrEqual(person.texts.most)
          }
        }
      })

      it("no call of a reminder twice, unless the day it told has since moved later by more than its limit of six days", () => {
        const before = new Map<string, Record<string, Day>>()
        const again: string[] = []
        for (const { message } of nudges) {
          for (const told of message.told) {
            const call = `${message.person} ${told.id} ${told.call}`
            const days = told.days ?? {}
            const last = before.get(call)
            const moved = Object.keys(days).some(
              (name) => last?.[name] && daysBetween(last[name], days[name] as Day) > 6,
            )
            if (last && !moved) again.push(call)
            before.set(call, days)
          }
        }
        expect(again).toEqual([])
      })

      it("no text twice word for word about one reminder", () => {
        const words = nudges.map(
          ({ message }) => `${message.person} ${message.told.map((told) => told.id).join()} ${message.text}`,
        )
        expect(words.filter((each, index) => words.indexOf(each) !== index)).toEqual([])
      })

      it("nothing of a reminder after the log says that it lapsed", () => {
        const lapsed = new Map(
          entries.flatMap((entry) => (entry.kind === "lapsed" ? [[entry.of, entry.at] as const] : [])),
        )
        const late = nudges.flatMap(({ at, message }) =>
          message.told.filter((told) => (lapsed.get(told.id) ?? Number.POSITIVE_INFINITY) < at).map((told) => told.id),
        )
        expect(late).toEqual([])
      })

      it("to each sowing in the order of the job", () => {
        const order = [
          "sow",
          "water-in",
          "check-emergence",
          "resow",
          "frost",
          "watch-boot",
          "watch-bloom",
          "cut",
          "check-regrowth",
          "rest-over",
          "plant",
        ]
        const firstOf = new Map<string, Map<string, Instant>>()
        for (const { at, message } of nudges) {
          for (const told of message.told) {
            // That a bed will be late is told on the day it shows, whenever that is.
            if (told.id.endsWith(":rest-over:2")) continue
            const sowing = told.id.split(":").slice(0, 2).join(":")
            const kinds = firstOf.get(sowing) ?? new Map<string, Instant>()
            if (!kinds.has(told.kind)) kinds.set(told.kind, at)
            firstOf.set(sowing, kinds)
          }
        }
        for (const [sowing, kinds] of firstOf) {
          const steps = [...kinds]
            .filter(([kind]) => kind !== "frost" && kind !== "resow")
            .sort((a, b) => a[1] - b[1] || order.indexOf(a[0]) - order.indexOf(b[0]))
          expect(
            steps.map(([kind]) => kind),
            sowing,
          ).toEqual(steps.map(([kind]) => kind).toSorted((a, b) => order.indexOf(a) - order.indexOf(b)))
        }
      })

      it("ends with a plan in which nothing old is still open", () => {
        const open =
          view?.reminders.filter(
            (reminder) => ["due", "sent"].includes(reminder.state) && reminder.lapses < addDays(day(TO), -60),
          ) ?? []
        expect(open).toEqual([])
      })
    })
  }

  it("is the same, text by text, when it is played again", async () => {
    const again = await played(longAcre, FROM, TO, [])
    expect(JSON.stringify(again.sent)).toBe(JSON.stringify(first.sent))
  })
})
