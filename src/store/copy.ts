import { randomBytes } from "node:crypto"
import { closeSync, openSync, renameSync, rmSync } from "node:fs"
import { dirname } from "node:path"
import { DatabaseSync } from "node:sqlite"
import { syncFile, syncFolder } from "./atomic-file.ts"
import { type Contents, checkSound } from "./sound.ts"
import { troubleOf } from "./trouble.ts"

/**
 * Copies an open database (`name` in messages), as it is at one moment, into a single file: written aside as `*.partial`,
 * looked through, synced, then renamed. Another process may go on writing meanwhile. `touch` may change the copy before
 * it gets its name.
 */
export function copyDatabase(
  from: DatabaseSync,
  name: string,
  to: string,
  touch?: (copy: DatabaseSync) => void,
): Contents {
  const partial = `${to}.${randomBytes(4).toString("hex")}.partial`
  try {
    closeSync(openSync(partial, "wx", 0o600))
    from.prepare("vacuum into ?").run(partial)
    const copy = new DatabaseSync(partial, { readOnly: touch === undefined })
    let contents: Contents
    try {
      touch?.(copy)
      contents = checkSound(copy, name)
    } finally {
      copy.close()
    }
    syncFile(partial)
    renameSync(partial, to)
    syncFolder(dirname(to))
    return contents
  } catch (error) {
    rmSync(partial, { force: true })
    const trouble = troubleOf(error, to)
    throw trouble?.code === "disk-full" ? trouble : error
  }
}
