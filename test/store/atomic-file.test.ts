import { spawn } from "node:child_process"
import { readdirSync, readFileSync, statSync } from "node:fs"
import { join } from "node:path"
import { expect, it } from "vitest"
import { writeFileAtomically } from "../../src/store/atomic-file.ts"
import { temporaryFolders } from "./folders.ts"
import { seeded } from "./kills.ts"

const temporary = temporaryFolders()

it("writes a small file for its user alone, and replaces it", () => {
  const folder = temporary()
  const file = join(folder, "key")
  writeFileAtomically(file, "one")
  writeFileAtomically(file, "two")
  expect(readFileSync(file, "utf8")).toBe("two")
  expect(statSync(file).mode & 0o777).toBe(0o600)
  expect(readdirSync(folder)).toEqual(["key"])
})

it("leaves the old file and nothing beside it where the new one cannot be written", () => {
  const folder = temporary()
  expect(() => writeFileAtomically(join(folder, "missing", "key"), "one")).toThrow(/ENOENT/)
  const file = join(folder, "key")
  writeFileAtomically(file, "old")
  expect(() => writeFileAtomically(file, 7 as never)).toThrow(TypeError)
  expect(readFileSync(file, "utf8")).toBe("old")
  expect(readdirSync(folder)).toEqual(["key"])
})

it("leaves the old one or the new one, never a part, in 8 kills at any moment (S15)", async () => {
  const file = join(temporary(), "settings")
  const line = (i: number) => `${String(i).repeat(20_000)}\n`
  writeFileAtomically(file, line(0))
  const code = `
    const { writeFileAtomically } = await import(process.argv[1])
    process.stdout.write("ready")
    for (let i = 1; ; i = (i + 1) % 10) writeFileAtomically(process.argv[2], String(i).repeat(20_000) + "\\n")`
  const module = new URL("../../src/store/atomic-file.ts", import.meta.url).href
  const random = seeded(15)
  for (let round = 0; round < 8; round += 1) {
    const child = spawn(process.execPath, ["--input-type=module", "-e", code, module, file])
    await new Promise((resolve) => {
      child.stdout.once("data", () => setTimeout(() => child.kill("SIGKILL"), random() * 30))
      child.once("close", resolve)
    })
    const text = readFileSync(file, "utf8")
    expect(text).toBe(line(Number(text[0])))
  }
})
