import { mkdtempSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterAll, expect, test } from "vitest"
import type { World } from "../../src/cli/command.ts"
import { replyOfCommand } from "../../src/cli/reply-of.ts"
import { SAMPLES } from "../channels/reply-of-samples.ts"

const folder = mkdtempSync(join(tmpdir(), "ryebell-reply-of-"))
afterAll(() => rmSync(folder, { recursive: true }))

async function answers(lines: readonly string[]): Promise<unknown[]> {
  const printed: string[] = []
  async function* input() {
    yield* lines
  }
  const world = { input, out: (text: string) => printed.push(text) } as unknown as World
  expect(await replyOfCommand.run(["--batch"], world)).toBe(0)
  return printed.map((line) => JSON.parse(line))
}

test("each mail gets a line with its id, its new words and its nature, in order", async () => {
  const lines = SAMPLES.slice(0, 50).map((sample, i) => {
    const file = join(folder, `${i}.eml`)
    writeFileSync(file, sample.eml)
    return JSON.stringify({ id: `m${i}`, file })
  })
  const found = await answers(lines)
  expect(found.map((each) => (each as { id: string }).id)).toEqual(lines.map((_, i) => `m${i}`))
  expect(found[0]).toEqual({ id: "m0", reply: "Roggen ist unten", auto: false, bounce: false, photos: 0 })
})

test("a file that is not there, a line without a file and a line that is no JSON are told in their place", async () => {
  const good = join(folder, "good.eml")
  writeFileSync(good, "From: a@example.org\n\ndone 1\n")
  expect(
    await answers([`{"id": 1, "file": "${folder}/none.eml"}`, '{"id": 2}', "{", JSON.stringify({ id: 3, file: good })]),
  ).toEqual([
    { id: 1, error: expect.stringContaining("ENOENT") },
    { id: 2, error: expect.stringContaining("file") },
    { error: expect.stringContaining("JSON") },
    { id: 3, reply: "done 1", auto: false, bounce: false, photos: 0 },
  ])
})
