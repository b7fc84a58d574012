import ICAL from "ical.js"
import { afterEach, describe, expect, it } from "vitest"
import { addDays, type Day, day } from "../../src/values/day.ts"
import { instant } from "../../src/values/instant.ts"
import { type CalendarEvent, calendarEvents, calendarText, reviseEvents } from "../../src/wording/calendar.ts"
import { BEDS, bed, garden, namesOnly, person, plan } from "./long-acre.ts"

const AT = instant("2026-05-10T00:00:00-04:00")
const LATER = instant("2026-05-17T00:00:00-04:00")
const events = calendarEvents(plan(), garden(BEDS), namesOnly(), person("ines"))
const publish = (list: readonly CalendarEvent[]) => calendarText("Long Acre season", reviseEvents(list, {}, AT).events)

/** What another library reads in the feed. */
function read(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text))
  return calendar.getAllSubcomponents("vevent").map((each) => {
    const event = new ICAL.Event(each)
    return {
      uid: event.uid,
      from: event.startDate.toString(),
      end: event.endDate.toString(),
      allDay: event.startDate.isDate && event.endDate.isDate,
      summary: event.summary,
      description: event.description,
      sequence: event.sequence,
      alarms: each.getAllSubcomponents("valarm").length,
      modified: String(each.getFirstPropertyValue("last-modified")),
    }
  })
}

describe("the events of a plan", () => {
  it("are its windows, bed by bed", () => {
    expect(events.map((each) => [each.uid, each.from, each.to, each.summary])).toEqual([
      [
        "south-2025-09-20-bloom.long-acre@ryebell",
        "2026-05-10",
        "2026-05-19",
        "Rye on South bed may flower, likely 14 May",
      ],
      ["south-2025-09-20-cut-1.long-acre@ryebell", "2026-05-14", "2026-05-22", "Cut South bed, best 17-22 May"],
      [
        "south-2025-09-20-ready.long-acre@ryebell",
        "2026-05-28",
        "2026-06-14",
        "South bed ready to plant for tomatoes, likely 5 June",
      ],
      [
        "north-2025-09-28-ready.long-acre@ryebell",
        "2026-05-18",
        "2026-06-04",
        "North bed ready to plant for squash, likely 26 May",
      ],
      [
        "kitchen-2026-04-25-bloom.long-acre@ryebell",
        "2026-05-28",
        "2026-06-09",
        "Buckwheat on Kitchen bed may flower, likely 2 June",
      ],
      ["kitchen-2026-04-25-cut-1.long-acre@ryebell", "2026-06-02", "2026-06-11", "Cut Kitchen bed, best 5-11 June"],
      [
        "kitchen-2026-04-25-ready.long-acre@ryebell",
        "2026-06-12",
        "2026-06-22",
        "Kitchen bed ready to plant, likely 16 June",
      ],
      ["east-2026-08-28-sow.long-acre@ryebell", "2026-08-28", "2026-09-10", "Sow East bed: oats and peas"],
    ])
  })

  it("are only of beds the person minds", () => {
    const tom = person("tom", { minds: ["east"] })
    expect(calendarEvents(plan(), garden(BEDS), namesOnly(), tom).map((each) => each.uid.split("-")[0])).toEqual([
      "east",
    ])
  })
})

describe("the feed (RFC 5545), read by ical.js", () => {
  const zone = process.env.TZ
  afterEach(() => {
    if (zone === undefined) delete process.env.TZ
    else process.env.TZ = zone
  })

  it.each(["UTC", "America/New_York", "Pacific/Kiritimati", "Pacific/Pago_Pago"])(
    "holds every event on its own days, the end exclusive, in the zone %s (failure T19)",
    (tz) => {
      process.env.TZ = tz
      const found = read(publish(events))
      expect(found.map(({ uid, from, end, allDay, summary }) => ({ uid, from, end, allDay, summary }))).toEqual(
        events.map(({ uid, from, to, summary }) => ({ uid, from, end: addDays(to, 1), allDay: true, summary })),
      )
    },
  )

  it("rings no alarm: texts do the reminding", () => {
    expect(read(publish(events)).every((each) => each.alarms === 0)).toBe(true)
  })

  it("is the same to the letter for the same plan", () => {
    expect(publish(events)).toBe(publish(events))
  })

  it("has no line longer than 75 octets, and ends lines as the standard wants", () => {
    const text = publish(events.map((each) => ({ ...each, description: "ä🌼".repeat(60) })))
    for (const line of text.split("\r\n")) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75)
    expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/)
  })

  it.each([
    "A\rBEGIN:VEVENT",
    "A\nEND:VEVENT\nBEGIN:VALARM",
    "A\r\nATTACH:file:///x",
    "A;B,C\\nD:E",
    "\u2028BEGIN:VEVENT",
    "\u0000\u0007x",
  ])("grows no event, alarm or property out of the name %j (failure X13)", (name) => {
    const wild = garden(BEDS.map((each) => bed(each.id, name)))
    const text = publish(calendarEvents(plan(), wild, namesOnly(), person("ines")))
    const found = read(text)
    expect(found).toHaveLength(events.length)
    expect(found.every((each) => each.alarms === 0)).toBe(true)
    expect(text).not.toMatch(/^(ATTACH|BEGIN:VALARM)/m)
  })
})

describe("what changed in a feed", () => {
  const first = reviseEvents(events, {}, AT)
  const moved = events.map((each) =>
    each.uid.includes("cut-1") && each.uid.startsWith("south") ? { ...each, to: day("2026-05-20") } : each,
  )
  const second = reviseEvents(moved, first.memory, LATER)

  it("raises the number of an event that moved, and leaves the others alone", () => {
    const numbers = second.events.map((each) => [each.uid.split(".")[0], each.sequence, each.modified])
    expect(numbers.filter(([, sequence]) => sequence !== 0)).toEqual([["south-2025-09-20-cut-1", 1, LATER]])
    expect(second.events.filter((each) => each.modified === AT)).toHaveLength(events.length - 1)
  })

  it("keeps uids, whatever moves", () => {
    expect(second.events.map((each) => each.uid)).toEqual(first.events.map((each) => each.uid))
  })

  it("is reckoned from what was published, so asking often changes nothing", () => {
    expect(reviseEvents(moved, second.memory, instant("2026-06-01T00:00:00Z"))).toEqual({
      events: second.events,
      memory: second.memory,
    })
  })

  it("never falls back, even where an event was gone for a while", () => {
    const gone = reviseEvents([], second.memory, LATER)
    const back = reviseEvents(events, gone.memory, instant("2026-06-01T00:00:00Z"))
    expect(back.events.find((each) => each.uid.startsWith("south-2025-09-20-cut"))?.sequence).toBe(2)
  })

  it("stands in the feed as SEQUENCE and LAST-MODIFIED", () => {
    const cut = read(calendarText("x", second.events)).find((each) => each.uid.startsWith("south-2025-09-20-cut"))
    expect([cut?.sequence, cut?.modified, cut?.end]).toEqual([
      1,
      "2026-05-17T04:00:00Z",
      addDays("2026-05-20" as Day, 1),
    ])
  })
})
