import { describe, expect, it } from "vitest"
import type { World } from "../../src/cli/command.ts"
import { understandCommand } from "../../src/cli/understand.ts"
import { openHandbook } from "../../src/handbook/open.ts"

const handbook = openHandbook(new URL("../../shared/", import.meta.url))

async function answersTo(...lines: string[]): Promise<unknown[]> {
  const out: unknown[] = []
  const world = {
    handbook: () => handbook,
    out: (text: string) => out.push(JSON.parse(text)),
    err: () => {},
    async *input() {
      yield* lines
    },
  } as Partial<World> as World
  expect(await understandCommand.run(["--batch"], world)).toBe(0)
  return out
}

const line = (id: string, text: string, more: object = {}): string =>
  JSON.stringify({
    id,
    text,
    now: "2026-05-11T08:20",
    beds: [{ id: "plank", name: "Plank bed", species: ["winter-rye"] }],
    open: [{ n: 4, bed: "plank", kind: "cut" }],
    ...more,
  })

describe("understand --batch", () => {
  it("answers each line in order", async () => {
    expect(
      await answersTo(line("a", "done"), line("b", "cut it on 10/5", { dates: "day-first" }), line("c", "thanks")),
    ).toEqual([
      { id: "a", acts: [{ act: "done", n: [4], on: "2026-05-11" }], ask: null, note: false },
      { id: "b", acts: [{ act: "done", n: [4], on: "2026-05-10" }], ask: null, note: false },
      { id: "c", acts: [], ask: null, note: false },
    ])
  })

  it("puts an error with its id in the place of a bad line and goes on", async () => {
    const [first, second, third] = await answersTo("{", line("b", "done", { now: "today" }), line("c", "skip"))
    expect(first).toHaveProperty("error")
    expect(second).toEqual({ id: "b", error: expect.stringContaining("local date and time") })
    expect(third).toMatchObject({ id: "c", acts: [{ act: "skip", n: [4] }] })
  })

  it("puts right what the sender said last, where a correction comes as a text of its own", async () => {
    const last = { acts: [{ act: "observe", bed: "plank", species: null, what: "bloom", on: "2026-05-11" }] }
    const [found] = await answersTo(line("a", "sorry, that was yesterday", { last }))
    expect(found).toEqual({
      id: "a",
      acts: [{ act: "undo" }, { act: "observe", bed: "plank", species: null, what: "bloom", on: "2026-05-10" }],
      ask: null,
      note: false,
    })
  })
})
