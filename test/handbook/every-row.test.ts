import { existsSync, readdirSync, readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { NOT_COMPUTED } from "./not-computed.ts"

/** Published check values that lie beside a checkout of the makers; a plain clone has none and skips this test. */
const reference = new URL("../../../shared/reference/", import.meta.url)
const present = existsSync(reference)
const FILES = ["handbook.json", "handbook-checks.json"]

/** Everything that tests read their rows from: tests by name, check values by id. */
function written(): string {
  const folders = [
    new URL("../../shared/check-values/", import.meta.url),
    new URL("./", import.meta.url),
    new URL("../agronomy/", import.meta.url),
    new URL("../values/", import.meta.url),
  ]
  return folders
    .filter((folder) => existsSync(folder))
    .flatMap((folder) =>
      readdirSync(folder, { recursive: true, encoding: "utf8" })
        .filter((name) => /\.(json|ts)$/.test(name) && !name.endsWith("not-computed.ts"))
        .map((name) => readFileSync(new URL(name, folder), "utf8")),
    )
    .join("\n")
}

describe.runIf(present)(
  "every published check value (skipped where the reference folder is not beside the checkout)",
  () => {
    // Run also where the tests are skipped, since they are listed all the same.
    const ids = (present ? FILES : []).flatMap((name) => {
      const { checks } = JSON.parse(readFileSync(new URL(name, reference), "utf8")) as { checks: { id: string }[] }
      return checks.map((check) => check.id)
    })

    test("is checked by a test or listed with the reason why not", () => {
      const text = written()
      const missing = ids.filter((id) => !(id in NOT_COMPUTED) && !text.includes(`"${id}"`))
      expect(missing).toEqual([])
    })

    test("that is listed as not computed is one, and no test checks it", () => {
      const text = written()
      expect(Object.keys(NOT_COMPUTED).filter((id) => !ids.includes(id))).toEqual([])
      expect(Object.keys(NOT_COMPUTED).filter((id) => text.includes(`"id": "${id}"`))).toEqual([])
    })
  },
)
