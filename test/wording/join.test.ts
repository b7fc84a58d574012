import { describe, expect, it } from "vitest"
import { readSowing } from "../../src/garden/join-answers.ts"
import * as beds from "../../src/wording/beds.ts"
import * as join from "../../src/wording/join.ts"
import { measure } from "../../src/wording/segments.ts"
import { day, handbook } from "../given.ts"

/** The longest name that a garden file may have, in words and in one. */
const NAMES = ["Grandmother Elizabeth's bed by the wall 2", "W".repeat(40), "Jo"].map((name) => name.slice(0, 40))
const TODAY = day("2026-11-10")
const species = [...handbook().species.values()].toSorted(
  (a, b) => (b.names[0] ?? "").length - (a.names[0] ?? "").length,
)
const naming: join.Naming = {
  species: (id) => handbook().species.get(id)?.names[0] ?? id,
  day: () => "Wed 28 Sep 2025",
}
const SOWINGS = [
  null,
  ...[1, 3, 6].map((n) => ({
    on: TODAY,
    isSown: true,
    species: species.slice(0, n).map(({ id }) => ({ id, share: null })),
  })),
]

/** Every wording of joining, households and beds, with the longest of all that people can put into it. */
function* everyText(): Generator<string> {
  for (const name of NAMES) {
    const host = { name }
    yield join.inviteMailText(host)
    yield join.proveText(host)
    yield join.askNameText(host)
    yield join.memberText(name, name)
    yield join.inFileText(name)
    yield join.phoneLinkedText(name, name)
    yield join.inviteCodeText("123456")
    yield join.phoneCodeText("123456")
    yield beds.bedKnownText(name)
    yield beds.bedDroppedText(name)
    yield beds.lastBedText(name)
    yield beds.bedsInFileText(host)
    yield beds.whichBedText([name, name, name])
    yield beds.whichBedText([name, name, name, name])
    yield beds.tooManyBedsText(60)
    for (const units of ["us", "metric"] as const) {
      yield join.askBedText(name, units)
      yield join.askSizeText(name, units)
      yield beds.askNewBedText(units)
    }
    yield join.askAgainText("a size with its unit", join.askSizeText(name, "metric"))
    for (const said of ["x".repeat(300), "clover in May", `rye and ${"y".repeat(200)}, 3 May`, "rye"]) {
      const read = readSowing(said, handbook(), TODAY, "month-first")
      if ("expected" in read) yield join.askAgainText(read.expected, join.askSowingText(name))
    }
    for (const sowing of SOWINGS) {
      yield beds.bedAddedText(name, "4 ft 6 in by 8 ft 10 in", sowing, naming)
      for (const by of ["text", "mail"] as const) yield join.joinedText(name, name, sowing, naming, by)
    }
  }
}

describe("what people are asked and told who join, share a garden or change its beds", () => {
  it("fits two segments whatever they and their beds are called", () => {
    const long = [...everyText()].filter((text) => measure(text).segments > 2)
    expect(long).toEqual([])
    expect([...everyText()].length).toBeGreaterThan(100)
  })

  it("always says how to end it where it is the first or the last of joining", () => {
    for (const name of NAMES) {
      const texts = [
        join.inviteMailText({ name }),
        join.memberText(name, name),
        join.phoneLinkedText(name, name),
        ...SOWINGS.flatMap((sowing) =>
          (["text", "mail"] as const).map((by) => join.joinedText(name, name, sowing, naming, by)),
        ),
      ]
      for (const text of texts) expect(text).toMatch(/STOP to end/)
    }
  })
})
