import { writeFileSync } from "node:fs"
import { join } from "node:path"
import { afterAll, expect } from "vitest"

/** Set up before each test file of the first run: notes which mutated expressions the file's tests come by. */
declare global {
  var reachedByTest: Set<number> | undefined
}

globalThis.reachedByTest = new Set()

afterAll(() => {
  const file = expect.getState().testPath ?? ""
  const name = Buffer.from(file).toString("base64url").slice(-200)
  const reached = [...(globalThis.reachedByTest ?? [])]
  writeFileSync(join(process.env.REACHED_FOLDER ?? "", `${name}.json`), JSON.stringify({ file, reached }))
})
