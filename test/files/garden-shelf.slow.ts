import { mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { setTimeout as sleep } from "node:timers/promises"
import { expect, it } from "vitest"
import { openGardenShelf } from "../../src/files/garden-shelf.ts"
import { openHandbook } from "../../src/handbook/open.ts"

const handbook = openHandbook(new URL("../../shared/", import.meta.url))
const source = readFileSync(new URL("../../config/garden.yaml", import.meta.url), "utf8")

it("a garden file cut at 1,000 places under a running shelf changes nothing, and the next good save is taken (failure C9)", async () => {
  const folder = mkdtempSync(join(tmpdir(), "ryebell-cuts-"))
  const file = join(folder, "garden.yaml")
  writeFileSync(file, source)
  let told = 0
  const shelf = await openGardenShelf({
    path: file,
    handbook,
    onBroken: () => (told += 1),
    stillMs: 5,
    cutMs: 3_600_000,
  })
  const before = JSON.stringify(shelf.all())
  for (let n = 0; n < 1000; n += 1) {
    writeFileSync(file, source)
    truncateSync(file, Math.floor((n * source.length) / 1000))
    await shelf.look()
    await sleep(6)
    await shelf.look()
    expect(JSON.stringify(shelf.all()), `cut ${n}`).toBe(before)
  }
  expect(told).toBeGreaterThan(500)
  writeFileSync(file, source.replace("garden: Long Acre", "garden: After the cuts"))
  await shelf.look()
  await sleep(6)
  await shelf.look()
  expect(shelf.all()[0]?.name).toBe("After the cuts")
  await shelf.close()
  rmSync(folder, { recursive: true })
})
