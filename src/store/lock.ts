import { readFileSync, rmSync } from "node:fs"
import { hostname } from "node:os"
import { join } from "node:path"
import { DatabaseSync } from "node:sqlite"
import { z } from "zod"
import { instantOf, instantText } from "../values/instant.ts"
import { writeFileAtomically } from "./atomic-file.ts"
import { folderTrouble } from "./file-system.ts"
import { StoreTrouble, troubleOf } from "./trouble.ts"

export type Lock = { release(): void }

const holderSchema = z.object({ pid: z.number(), started: z.string(), host: z.string() })
type Holder = z.infer<typeof holderSchema>

/**
 * Makes this process the only one that writes in a folder. The lock is one of the operating system (an exclusive
 * transaction on a database of its own that stays empty), so it ends with its process, even under kill -9, and there is
 * no moment between looking and taking. Who holds it stands beside it in `ryebell.pid`, for the message only.
 * Throws a StoreTrouble `held` that names the holder.
 */
export function takeLock(folder: string): Lock {
  const file = join(folder, "ryebell.lock")
  const note = join(folder, "ryebell.pid")
  const db = new DatabaseSync(file, { timeout: 0 })
  try {
    db.exec("begin exclusive")
  } catch (error) {
    db.close()
    const trouble = troubleOf(error, file)
    if (trouble?.code === "busy") throw held(folder, readHolder(note))
    if (trouble?.code !== "damaged") throw trouble ?? error
    const message = `${file} is not what Ryebell made. Make sure that no Ryebell runs on that folder, then remove this one file.`
    throw new StoreTrouble("not-writable", message, { cause: error })
  }
  const holder: Holder = {
    pid: process.pid,
    started: instantText(instantOf(performance.timeOrigin)),
    host: hostname(),
  }
  try {
    writeFileAtomically(note, `${JSON.stringify(holder)}\n`)
  } catch (error) {
    const trouble = folderTrouble(note, folder, error)
    if (trouble.code !== "disk-full") {
      db.close()
      throw trouble
    }
    // Only the message of a second start is poorer for it; a full disk must not keep us from starting.
    rmSync(note, { force: true })
  }
  return {
    release() {
      if (!db.isOpen) return
      rmSync(note, { force: true })
      db.close()
    },
  }
}

/** The note may be a dead process's, where the new holder has not written its own yet. */
function readHolder(note: string): Holder | null {
  try {
    const holder = holderSchema.parse(JSON.parse(readFileSync(note, "utf8")))
    return holder.host !== hostname() || lives(holder.pid) ? holder : null
  } catch {
    return null
  }
}

function lives(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return error instanceof Error && "code" in error && error.code === "EPERM"
  }
}

function held(folder: string, holder: Holder | null): StoreTrouble {
  const where = holder && holder.host !== hostname() ? ` on ${holder.host}` : ""
  const who = holder
    ? `process ${holder.pid}${where}, started ${holder.started}`
    : "another process, which is only just starting"
  return new StoreTrouble(
    "held",
    `Ryebell already runs on ${folder}: ${who}. Stop that one first, or set RYEBELL_DATA to another folder.`,
  )
}
