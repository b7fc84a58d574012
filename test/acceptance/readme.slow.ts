import { cpSync, mkdirSync, readFileSync, rmSync } from "node:fs"
import { join } from "node:path"
import { fileURLToPath } from "node:url"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { bot, command, freshFolder, type Ran } from "./program.ts"

const ROOT = fileURLToPath(new URL("../../", import.meta.url))
const readme = readFileSync(join(ROOT, "README.md"), "utf8")
/** Every command line of the README that begins `npm run --silent ryebell --`, as words, without its comment. */
const commands = readme
  .split("\n")
  .filter((line) => line.startsWith("npm run --silent ryebell -- "))
  .map((line) =>
    line
      .replace("npm run --silent ryebell -- ", "")
      .replace(/\s+#.*$/, "")
      .trim(),
  )

/** What each must print to do what the README says of it. */
const PRINTS: Record<string, string> = {
  check: "Before you buy a number",
  plan: "South bed (south)",
  "season --from 2026-03-01 --to 2026-10-31": "2026-03-01 17:00  mail to ines",
  "fits --bed south": "South bed: ",
  "species hairy-vetch": "Vicia villosa",
  log: "has nothing to show",
  "--help": "usage: ryebell",
  "season --garden config/season/garden.yaml --replies config/season/replies.jsonl --from 2026-04-01 --to 2026-06-10":
    "planted the tomatoes",
}

describe("the README", () => {
  let folder: string
  beforeAll(() => {
    folder = freshFolder("readme")
    mkdirSync(join(folder, "config"))
    cpSync(join(ROOT, "config"), join(folder, "config"), { recursive: true })
  })
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  const run = (words: string): Promise<Ran> =>
    command(words.split(" "), { cwd: folder, env: { RYEBELL_DATA: join(folder, "data") } })

  it("names only commands that this test knows, and all of them", () => {
    expect(commands.toSorted()).toEqual(Object.keys(PRINTS).toSorted())
  })

  it.each(Object.entries(PRINTS))("may say: %s", { timeout: 120_000 }, async (words, prints) => {
    const ran = await run(words)
    expect(ran.status, ran.err).toBe(0)
    expect(ran.out + ran.err).toContain(prints)
  })

  it("tells a season in the very words of the program", { timeout: 120_000 }, async () => {
    const played = (await run(Object.keys(PRINTS).find((words) => words.includes("config/season"))!)).out
    const out = played.replace(/\s+/g, " ")
    const season = /## A season in texts.*?```\n(.*?)```/s.exec(readme)?.[1] ?? ""
    const said = season.split(/\n(?=[ 1-3]\d [A-Z][a-z]+ )|\n(?= {8}(?:\.\.\.|South bed cut))/)
    expect(said.length).toBeGreaterThan(10)
    for (const each of said) {
      const words = each
        .replace(/^[ 1-3]\d [A-Z][a-z]+ +/, "")
        .replace(/\s+/g, " ")
        .trim()
      for (const part of words.replace(/^> /, "").split("...")) expect(out).toContain(part.trim())
    }
  })

  it("asks a household for its garden where the example was moved away", { timeout: 120_000 }, async () => {
    const own = join(folder, "config", "own.yaml")
    const asked = bot([], { RYEBELL_GARDEN: own, RYEBELL_DATA: join(folder, "own") })
    await asked.says("Where is the garden?")
    await asked.stop()
  })
})
