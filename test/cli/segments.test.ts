import { describe, expect, it } from "vitest"
import type { World } from "../../src/cli/command.ts"
import { segments } from "../../src/cli/segments.ts"

async function answersTo(...lines: string[]): Promise<unknown[]> {
  const out: unknown[] = []
  const world = {
    out: (text: string) => out.push(JSON.parse(text)),
    err: () => {},
    async *input() {
      yield* lines
    },
  } as Partial<World> as World
  expect(await segments.run(["--batch"], world)).toBe(0)
  return out
}

describe("segments --batch", () => {
  it("answers each line in order with what would be sent and how it travels", async () => {
    expect(
      await answersTo(
        '{"id": "a", "text": "Soil is 12°C – wait 🌱"}',
        '{"id": "b", "text": "Soil is 12°C, wait.", "exact": true}',
        '{"id": 3, "text": ""}',
      ),
    ).toEqual([
      { id: "a", sent: "Soil is 12 C - wait", encoding: "gsm7", units: 19, segments: 1 },
      { id: "b", sent: "Soil is 12°C, wait.", encoding: "ucs2", units: 19, segments: 1 },
      { id: 3, sent: "", encoding: "gsm7", units: 0, segments: 0 },
    ])
  })

  it("puts an error in the place of a bad line and goes on", async () => {
    const [first, second, third] = await answersTo("no json", '{"id": "b"}', '{"id": "c", "text": "ok"}')
    expect(first).toHaveProperty("error")
    expect(second).toMatchObject({ id: "b", error: expect.stringContaining("text") })
    expect(third).toMatchObject({ id: "c", segments: 1 })
  })
})
