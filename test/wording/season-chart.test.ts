import { describe, expect, it } from "vitest"
import { addDays, day } from "../../src/values/day.ts"
import { KEY, keyNotes, keysUsed, seasonChart } from "../../src/wording/season-chart.ts"
import { BAND_KINDS } from "../../src/wording/season-chart-bands.ts"
import { bedRows } from "../../src/wording/season-chart-rows.ts"
import { chartYear, lensMondays, scaleOf } from "../../src/wording/season-chart-scale.ts"
import { BEDS, bed, garden, namesOnly, ON, plan, sowingPlan, species } from "./long-acre.ts"

const naming = { garden: garden(BEDS), handbook: namesOnly(), on: ON }
const rows = bedRows(plan(), naming)
const options = { on: ON, title: "Long Acre", description: "all of it", for: "picture" as const }

describe("the rows of the picture", () => {
  it("say each bed in a sentence that stands without the picture", () => {
    expect(rows.map((row) => row.sentence)).toEqual([
      "South bed, vetch and rye: growing, sown 20 Sep 2025. First flowers may come any day 10-19 May, likely 14 May. Cut 14-22 May, ideally 17 May. Rest until about 5 June (28 May-14 June).",
      "North bed, rye: resting, sown 28 Sep 2025. Cut 1 May. Rest until about 26 May (18 May-4 June).",
      "Kitchen bed, buckwheat: not up yet, sown 25 Apr. First flowers may come any day 28 May-9 June, likely 2 June. Cut 2-11 June, ideally 5 June. Rest until about 16 June (12-22 June).",
      "West bed, clover: planted, sown 12 Sep 2025. Cut 24 Apr.",
      "East bed, oats and peas: to be sown. Sow 28 Aug-10 Sep.",
    ])
  })

  it("do not draw as grown what should be up and was not seen", () => {
    const bands = rows[2]?.sowings[0]?.bands ?? []
    expect(bands.find((band) => band.what === "growing")?.from).toBe(addDays(ON, 1))
  })

  it("end what flowers where the stand ends", () => {
    const late = sowingPlan("south", "2025-09-20", {
      species: [
        species("hairy-vetch", 1, {
          firstFlower: { early: day("2026-04-03"), likely: day("2026-05-13"), late: day("2026-06-17"), why: "" },
        }),
      ],
      cut: {
        from: day("2026-05-09"),
        best: day("2026-05-10"),
        by: day("2026-05-16"),
        setBy: { species: "hairy-vetch", because: "seed" },
        why: "",
        ordinal: 1,
        survivors: [],
        carryOff: false,
      },
    })
    const [row] = bedRows(plan([{ bed: "south", sowings: [late] }]), naming)
    expect(row?.sowings[0]?.bands.find((band) => band.what === "flower")).toMatchObject({ to: "2026-05-16" })
  })

  it("draw nothing as grown of what was never reported as sown", () => {
    const [east] = plan().beds.slice(-1)
    const at = (on: string) => bedRows({ ...plan([east as never]), on: day(on) }, { ...naming, on: day(on) })[0]
    const within = at("2026-09-05")
    expect(within?.sowings[0]?.bands.find((band) => band.what === "growing")?.from).toBe("2026-09-06")
    const past = at("2026-09-20")
    expect(past?.sowings[0]?.bands.map((band) => band.what)).toEqual(["sow"])
    expect(past?.caption).toBe("time to sow was over 10 Sep")
    expect(past?.sentence).toBe("East bed, oats and peas: to be sown. The time to sow it was over on 10 Sep.")
  })

  it("keep a bed ready until it is planted, and say that its rest is over", () => {
    const on = addDays(ON, 60)
    const resting = bedRows({ ...plan(), on }, { ...naming, on })[1]
    expect(resting?.sowings[0]?.bands.find((band) => band.what === "ready")).toMatchObject({
      from: "2026-05-18",
      likely: "2026-05-26",
      to: on,
    })
    expect(resting?.sentence).toBe(
      "North bed, rye: resting, sown 28 Sep 2025. Cut 1 May. Rest was over about 26 May (18 May-4 June).",
    )
  })

  it("say when a bed is ready that the frost clears without a cut", () => {
    const killed = sowingPlan("south", "2025-08-25", {
      state: "growing",
      noCut: "Frost will probably kill the oats.",
      rest: {
        transplants: { early: day("2026-05-02"), likely: day("2026-05-16"), late: day("2026-05-30"), why: "" },
        smallSeed: { early: day("2026-05-02"), likely: day("2026-05-16"), late: day("2026-05-30"), why: "" },
        why: "",
      },
    })
    const at = (on: string) => {
      const [row] = bedRows(plan([{ bed: "south", sowings: [killed] }]), { ...naming, on: day(on) })
      return row?.caption
    }
    expect([at("2026-04-01"), at("2026-06-01")]).toEqual(["ready about 16 May, no cut", "ready since about 16 May"])
  })

  it("say of what was expected and not told that it is reckoned as passed, and mark whose turn it is", () => {
    const on = addDays(ON, 20)
    const [south] = bedRows({ ...plan(), on }, { ...naming, on })
    const steps = south?.sowings[0]?.steps ?? []
    const of = (what: string) => steps.find((each) => each.what === what)
    expect(of("Vetch: first flower")).toMatchObject({ passed: true, seen: false, whose: "plants" })
    expect(of("Rye: heading")).toMatchObject({ passed: false, seen: true, whose: "plants" })
    expect(of("Cut")).toMatchObject({ passed: false, seen: false, whose: "gardener" })
  })

  it("expect no flowers of what the frost will probably take before, and tell how likely that is", () => {
    const range = (early: string, likely: string, late: string) => ({
      early: day(early),
      likely: day(likely),
      late: day(late),
      why: "",
    })
    const oats = (chance: number) =>
      species("oats", 1, {
        firstFlower: range("2027-01-03", "2027-02-13", "2027-04-01"),
        frostKill: {
          temperature_c: { low: -9, high: -6 },
          chance,
          when: range("2026-12-05", "2026-12-28", "2027-01-20"),
        },
      })
    const stepsFor = (chance: number) => {
      const sown = sowingPlan("south", "2026-08-28", { species: [oats(chance)], noCut: "frost" })
      return bedRows(plan([{ bed: "south", sowings: [sown] }]), naming)[0]?.sowings[0]?.steps.map((each) => each.what)
    }
    expect(stepsFor(0.93)).toContain("Oats: frost may kill it (about 9 in 10)")
    expect(stepsFor(0.93)).not.toContain("Oats: first flower")
    expect(stepsFor(0.2)).toContain("Oats: first flower")
    expect(stepsFor(0.2)?.join()).not.toContain("frost")
  })

  it("name a bed once, and what follows there by its cover", () => {
    const [south, , , , east] = plan().beds
    const both = plan([{ bed: "south", sowings: [...(south?.sowings ?? []), ...(east?.sowings ?? [])] }])
    expect(bedRows(both, naming)[0]?.sentence).toMatch(
      /^South bed, vetch and rye: .* Then oats and peas: to be sown\. /,
    )
  })

  it("hold only the beds a person minds", () => {
    expect(bedRows(plan(), naming, ["east"]).map((row) => row.bed)).toEqual(["east"])
  })

  it("say that a bed without a cover has none", () => {
    const [row] = bedRows(plan([{ bed: "south", sowings: [] }]), naming)
    expect([row?.caption, row?.sentence]).toEqual(["no cover now", "South bed: no cover now."])
  })
})

describe("the calendar of the picture", () => {
  const soon = [addDays(ON, 3), addDays(ON, 20)]

  it("is twelve months with today in the fourth, in any month of the year", () => {
    for (const [on, first] of [
      ["2026-01-31", "2025-10-01"],
      ["2026-05-10", "2026-02-01"],
      ["2026-12-01", "2026-09-01"],
      ["2028-02-29", "2027-11-01"],
    ] as const) {
      const year = chartYear(day(on), [])
      expect(year.first).toBe(first)
      expect(addDays(year.last, 1).slice(5)).toBe(year.first.slice(5))
    }
  })

  it("rises with the days, from 0 to 100, with and without weeks that are drawn larger", () => {
    for (const turns of [[], soon]) {
      const year = chartYear(ON, turns)
      const scale = scaleOf(year)
      let before = -1
      for (let d = year.first; d <= year.last; d = addDays(d, 1)) {
        expect(scale(d)).toBeGreaterThan(before)
        before = scale(d)
      }
      expect([scale(year.first), scale(addDays(year.last, 1))]).toEqual([0, 100])
    }
  })

  it("draws the weeks around today larger where much begins or ends in them", () => {
    const year = chartYear(ON, soon)
    const scale = scaleOf(year)
    const width = (d: typeof ON) => scale(addDays(d, 7)) - scale(d)
    expect(width(ON)).toBeGreaterThan(4 * width(day("2026-09-01")))
    expect(lensMondays(year)[2]).toBe("2026-05-11")
  })

  it("draws all weeks alike where next to nothing does, and says nothing of larger ones", () => {
    const year = chartYear(ON, [day("2026-08-28"), day("2026-09-10")])
    const scale = scaleOf(year)
    expect(year.lens).toBeNull()
    expect(lensMondays(year)).toEqual([])
    expect(scale(addDays(ON, 7)) - scale(ON)).toBeCloseTo(700 / 365, 1)
    const bare = bedRows(plan(plan().beds.slice(-1)), naming)
    expect(keyNotes(bare, ON)).toEqual(["May happen any day in its band; the tick is the likely day."])
    expect(seasonChart(bare, options)).not.toContain('class="lens"')
  })
})

describe("the picture", () => {
  it("names every kind of band it holds in its key, each with a pattern and a word", () => {
    const svg = seasonChart(rows, options)
    expect(KEY.map((key) => key.what)).toEqual([...BAND_KINDS])
    for (const key of keysUsed(rows)) {
      expect(svg).toContain(`>${key.words}</text>`)
      expect(svg).toContain(`url(#chart-${key.what})`)
    }
    expect(svg).toContain("May happen any day in its band; the tick is the likely day.")
  })

  it("names each bed and what comes next there, and today", () => {
    const svg = seasonChart(rows, options)
    for (const row of rows) expect(svg).toContain(`>${row.name}<tspan class="next" dx="7">${row.caption}</tspan>`)
    expect(svg).toContain("today, 10 May")
  })

  it("gives each kind of band a pattern of its own", () => {
    const tiles = [...seasonChart(rows, options).matchAll(/<pattern id="chart-(\w+)"[^>]*>(.*?)<\/pattern>/g)]
    const drawn = tiles.map((tile) => (tile[2] as string).replaceAll(/class="[^"]*"/g, ""))
    expect(tiles).toHaveLength(BAND_KINDS.length)
    // Seed to be sown and seed that was sown are the same dots: place on the calendar, edge and word tell them apart.
    expect(new Set(drawn).size).toBe(BAND_KINDS.length - 1)
  })

  it("is the same to the letter for the same plan", () => {
    expect(seasonChart(rows, options)).toBe(seasonChart(bedRows(plan(), naming), options))
  })

  it("keeps names that are long, wild or empty of meaning to itself", () => {
    const wild = [bed("south", `${"Long ".repeat(12)}<svg onload=x>`), bed("north", `A & B "c" <b>`)]
    const svg = seasonChart(bedRows(plan(), { ...naming, garden: garden(wild) }), options)
    expect(svg).not.toMatch(/<svg onload|<b>/)
    expect(svg).toContain("A &amp; B &quot;c&quot; &lt;b&gt;")
    expect(svg).toMatch(/Long Long Long Long Lon…|Long Long Long Long …/)
  })

  it("is drawn for a page in its width, without colours of its own", () => {
    const svg = seasonChart(rows, { ...options, for: "page" })
    expect(svg).toContain('width="100%"')
    expect(svg).not.toMatch(/#[0-9a-f]{6}|<style/)
    expect(svg).toMatch(/role="img" aria-labelledby="chart-t chart-d"/)
  })
})
