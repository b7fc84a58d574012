import { spawn } from "node:child_process"
import type { Step } from "../../src/store/migrate.ts"

const MIGRATE = new URL("../../src/store/migrate.ts", import.meta.url).href

/** Upgrades a database in a process of its own that kills itself where a step says `select die(at)`. */
export function upgradeKilledAt(database: string, from: number, steps: readonly Step[], at: number): Promise<void> {
  const code = `
    const [migrateFile, database, from, steps, at] = process.argv.slice(1)
    const { DatabaseSync } = await import("node:sqlite")
    const { migrate } = await import(migrateFile)
    const db = new DatabaseSync(database)
    db.exec("pragma journal_mode = wal")
    db.function("die", (n) => { if (Number(n) === Number(at)) process.kill(process.pid, "SIGKILL"); return null })
    migrate(db, Number(from), JSON.parse(steps))`
  const args = ["--input-type=module", "-e", code, MIGRATE, database, String(from), JSON.stringify(steps), String(at)]
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, args, { stdio: ["ignore", "inherit", "inherit"] })
    child.on("error", reject)
    child.on("close", (status, signal) =>
      signal === "SIGKILL" ? resolve() : reject(new Error(`the upgrade was not killed (${status})`)),
    )
  })
}
