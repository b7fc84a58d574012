import { describe, expect, test } from "vitest"
import type { NewEntry } from "../../src/garden/entry.ts"
import { type OwnRun, pooled } from "../../src/season/learned.ts"
import { addDays, type Day, day, daysBetween } from "../../src/values/day.ts"
import { aBed, aGarden, aSowing, at, log, reply } from "../given.ts"
import { sowingOn } from "./given.ts"

const run = (on: string, days: number, known: Partial<OwnRun> = {}): OwnRun => ({
  sowing: `south:${Number(on.slice(0, 4)) - 1}-09-10`,
  key: "crimson-clover before winter",
  on: day(on),
  days,
  spread_days: 6,
  measured: 1,
  ...known,
})
const ahead = (...years: number[]) => years.map((year) => run(`${year}-05-01`, -6))

describe("years of the garden against the book (partial pooling)", () => {
  test("nothing seen teaches nothing", () => {
    expect(pooled([], "crimson clover")).toBeNull()
  })

  test("one year moves little, five move much, none more than was seen", () => {
    const shift = (...years: number[]) => pooled(ahead(...years), "crimson clover")!.shift_days
    const one = shift(2021)
    const five = shift(2021, 2022, 2023, 2024, 2025)
    expect(one).toBeLessThan(0)
    expect(one).toBeGreaterThanOrEqual(-3)
    expect(five).toBeLessThanOrEqual(-4)
    expect(five).toBeGreaterThan(-6)
    expect(shift(2021, 2022)).toBeLessThan(one)
  })

  test("the more years, the narrower; one year leaves nearly the book's width", () => {
    const width = (...years: number[]) => pooled(ahead(...years), "crimson clover")!.narrower
    expect(width(2021)).toBeGreaterThan(0.85)
    expect(width(2021, 2022, 2023, 2024, 2025)).toBeLessThan(width(2021))
    expect(width(2021, 2022, 2023, 2024, 2025)).toBeGreaterThan(0.6)
  })

  test("two beds of one year count as one year", () => {
    const two = [run("2024-05-01", -6), run("2024-05-01", -6, { sowing: "north:2023-09-12" })]
    expect(pooled(two, "crimson clover")!.shift_days).toBe(pooled(ahead(2024), "crimson clover")!.shift_days)
  })

  test("a year whose weather nobody measured counts less", () => {
    const normals = pooled([run("2024-05-01", -6, { measured: 0 })], "crimson clover")!
    expect(normals.shift_days).toBeGreaterThan(pooled(ahead(2024), "crimson clover")!.shift_days)
    expect(normals.shift_days).toBeLessThan(0)
  })

  test("a report far out is held in", () => {
    expect(pooled([run("2024-05-01", -60)], "crimson clover")!.shift_days).toBeGreaterThanOrEqual(-7)
  })

  test("the reason says how far and when", () => {
    expect(pooled(ahead(2024, 2025), "crimson clover")!.why).toContain(
      "your crimson clover ran 6 days ahead of the book in 2024 and 2025",
    )
    expect(pooled([run("2024-05-01", 1)], "crimson clover")!.why).toContain("1 day behind the book in 2024")
    expect(pooled([run("2024-05-01", 0)], "crimson clover")!.why).toBe("your crimson clover kept to the book in 2024")
  })
})

/** A garden with crimson clover sown on 10 September of each year, and what was replied about its bloom. */
const YEARS = [2020, 2021, 2022, 2023, 2024, 2025]
const garden = aGarden({
  beds: [
    aBed({
      id: "south",
      sowings: YEARS.map((year) =>
        aSowing({ bed: "south", sown: day(`${year}-09-10`), species: [{ id: "crimson-clover", share: 1 }] }),
      ),
    }),
  ],
})
const sown = (year: number) => `south:${year}-09-10`
const flowerOf = (entries: NewEntry[], on = "2026-03-01", year = 2025) =>
  sowingOn(garden, log(...entries), on, sown(year)).species[0]!
const bloomed = (on: Day, what: "bloom" | "no-bloom" = "bloom"): NewEntry =>
  reply("ines", `${on} 12:00`, [{ act: "observe", bed: "south", species: null, what, on }])
const bookDay = (year: number): Day => flowerOf([], `${year + 1}-03-01`, year).firstFlower!.likely
/** Bloom in the spring after each of these sowings, so many days from the book. */
const runs = (days: number, ...years: number[]) => years.map((year) => bloomed(addDays(bookDay(year), days)))

describe("what a garden's log teaches its plan", () => {
  const moved = (entries: NewEntry[]) =>
    daysBetween(flowerOf([]).firstFlower!.likely, flowerOf(entries).firstFlower!.likely)

  test("crimson clover that ran ahead is expected earlier, more with every year", () => {
    const one = moved(runs(-6, 2024))
    const five = moved(runs(-6, 2020, 2021, 2022, 2023, 2024))
    expect(one).toBeLessThan(0)
    expect(one).toBeGreaterThanOrEqual(-3)
    expect(five).toBeLessThan(one)
    expect(five).toBeGreaterThanOrEqual(-6)
  })

  test("and its live seed with it, and the range is narrower", () => {
    const before = flowerOf([])
    const after = flowerOf(runs(-6, 2020, 2021, 2022, 2023, 2024))
    expect(after.viableSeed!.likely < before.viableSeed!.likely).toBe(true)
    const width = (range: { early: Day; late: Day }) => daysBetween(range.early, range.late)
    expect(width(after.firstFlower!)).toBeLessThan(width(before.firstFlower!))
  })

  test("the reason says so", () => {
    expect(flowerOf(runs(-6, 2023, 2024)).firstFlower!.why).toContain(
      "your crimson clover ran 6 days ahead of the book in 2024 and 2025",
    )
  })

  test("and the plan says it of the bed", () => {
    const { species, remarks } = sowingOn(garden, log(...runs(-6, 2023, 2024)), "2026-03-01", sown(2025))
    const said = "Your crimson clover ran 6 days ahead of the book in 2024 and 2025"
    expect(species[0]!.learned).toContain(said)
    expect(remarks.join(" ")).toContain(said)
  })

  test("a sowing is not taught by its own report, nor by reports of later days", () => {
    const own = bloomed(addDays(bookDay(2025), -6))
    expect(flowerOf([own], "2026-06-15").firstFlower!.why).toBe("You saw it.")
    const later = runs(-6, 2024)
    expect(flowerOf(later, "2025-03-01", 2024).firstFlower!.why).not.toContain("ran")
  })

  test("what was taken back teaches nothing", () => {
    const wrong = runs(-6, 2024)
    const undo: NewEntry = { at: at("2025-06-20"), garden: "acre", by: "ines", via: "sms", kind: "undo", undone: 1 }
    expect(flowerOf([...wrong, undo]).firstFlower).toEqual(flowerOf([]).firstFlower)
  })

  test("what blooms again after a cut teaches nothing", () => {
    const cut = reply("ines", "2025-04-10 12:00", [
      { act: "cut", bed: "south", species: [], then: null, on: day("2025-04-10") },
    ])
    expect(flowerOf([cut, bloomed(day("2025-06-10"))]).firstFlower!.why).not.toContain("book in 2025")
  })

  test("spring sowings learn nothing from what wintered", () => {
    const spring = aGarden({
      beds: [
        aBed({
          id: "south",
          sowings: [
            aSowing({ bed: "south", sown: day("2024-09-10"), species: [{ id: "crimson-clover", share: 1 }] }),
            aSowing({ bed: "south", sown: day("2026-04-10"), species: [{ id: "crimson-clover", share: 1 }] }),
          ],
        }),
      ],
    })
    const flower = (entries: NewEntry[]) =>
      sowingOn(spring, log(...entries), "2026-04-20", "south:2026-04-10").species[0]!.firstFlower
    expect(flower(runs(-6, 2024))).toEqual(flower([]))
  })
})
