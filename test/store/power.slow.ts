import { spawnSync } from "node:child_process"
import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { beforeAll, describe, expect, it } from "vitest"
import { temporaryFolders } from "./folders.ts"
import { judge, seeded, writeUntilKilled } from "./kills.ts"
import { buildShim, hasCompiler } from "./shim.ts"

const temporary = temporaryFolders()

/** What a power cut would leave: bytes as at the last sync of each file, names as at the last sync of the folder. */
function afterTheCut(kept: string): string {
  const folder = temporary()
  for (const line of readFileSync(join(kept, "names"), "utf8").trim().split("\n")) {
    const [inode, name] = line.split(" ") as [string, string]
    const bytes = join(kept, "bytes", inode)
    if (existsSync(bytes)) copyFileSync(bytes, join(folder, name))
    else writeFileSync(join(folder, name), "")
  }
  return folder
}

/** Needs Linux and a C compiler for the preloaded shim. */
describe.runIf(hasCompiler)("a power cut that takes everything that was not synced", () => {
  let shim: string
  beforeAll(() => {
    shim = buildShim("power.c")
  })

  it("loses nothing that was acknowledged, in 30 cuts at any moment (S3)", async () => {
    const random = seeded(7)
    let acknowledged = 0
    for (let round = 0; round < 30; round += 1) {
      const folder = join(temporary(), "data")
      const kept = temporary()
      mkdirSync(folder)
      mkdirSync(join(kept, "bytes"))
      const env = { LD_PRELOAD: shim, POWER_PATH: folder, POWER_KEPT: kept }
      const lines = await writeUntilKilled(folder, round, { lines: 1 + random() * 500 }, env)
      const verdict = await judge(afterTheCut(kept), lines)
      expect(verdict, `round ${round}`).toMatchObject({ missing: [], doubled: [] })
      acknowledged += verdict.acknowledged
    }
    console.log(`30 power cuts, ${acknowledged} acknowledgements, 0 missing`)
    expect(acknowledged).toBeGreaterThan(500)
  })

  it("is a test that finds a store which does not sync: the same run without the last sync loses entries", async () => {
    const folder = join(temporary(), "data")
    const kept = temporary()
    mkdirSync(folder)
    mkdirSync(join(kept, "bytes"))
    const code = `
      const { DatabaseSync } = await import("node:sqlite")
      const db = new DatabaseSync(process.argv[1] + "/x.db")
      db.exec("pragma journal_mode = wal; pragma synchronous = normal; create table t (x); insert into t values (1)")
      db.exec("pragma wal_checkpoint(truncate)")
      const { openSync, fsyncSync } = await import("node:fs")
      fsyncSync(openSync(process.argv[1], "r"))
      db.exec("insert into t values (2)")
      process.kill(process.pid, "SIGKILL")`
    const env = { ...process.env, LD_PRELOAD: shim, POWER_PATH: folder, POWER_KEPT: kept }
    spawnSync(process.execPath, ["--input-type=module", "-e", code, folder], { env })
    const { DatabaseSync } = await import("node:sqlite")
    const db = new DatabaseSync(join(afterTheCut(kept), "x.db"))
    expect(
      db
        .prepare("select x from t order by x")
        .all()
        .map((row) => row.x),
    ).toEqual([1])
    db.close()
  })
})
