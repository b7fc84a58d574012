import { randomBytes } from "node:crypto"
import { closeSync, existsSync, fsyncSync, openSync, rmSync, statSync, writeSync } from "node:fs"
import { join } from "node:path"
import { folderTrouble, freeBytes } from "./file-system.ts"

/** 2 MiB: some thousand replies with their index pages and the growth of the write-ahead log. */
export const BALLAST_BYTES = 2 * 1024 * 1024
/** The ballast is only taken where it leaves twice as much free: it must not itself fill the disk. */
const LEAVES_FREE = 3

/**
 * Room kept for the day the disk is full: a file that is given up so that what has happened (a reply, the outcome of a
 * send) can still be recorded. As long as it is gone, nothing new is started.
 */
export type Ballast = {
  held(): boolean
  /** Frees the room; false where there was none to free. */
  giveUp(): boolean
  /** Takes the room again where the disk has it; is it held now? Throws where the disk fails. */
  takeUp(): boolean
}

export function openBallast(folder: string): Ballast {
  const file = join(folder, "ballast")
  let held = existsSync(file) && statSync(file).size === BALLAST_BYTES
  return {
    held: () => held,
    giveUp() {
      if (!held) return false
      rmSync(file, { force: true })
      held = false
      return true
    },
    takeUp() {
      if (!held) held = freeBytes(folder) >= LEAVES_FREE * BALLAST_BYTES && filled(file, folder)
      return held
    },
  }
}

/** Writes real bytes: a file of zeros takes no room where the file system compresses or leaves holes. */
function filled(file: string, folder: string): boolean {
  try {
    const fd = openSync(file, "w", 0o600)
    try {
      const bytes = randomBytes(BALLAST_BYTES)
      for (let at = 0; at < bytes.length; ) at += writeSync(fd, bytes, at)
      fsyncSync(fd)
    } finally {
      closeSync(fd)
    }
    return true
  } catch (error) {
    rmSync(file, { force: true })
    const trouble = folderTrouble(file, folder, error)
    if (trouble.code === "disk-full") return false
    throw trouble
  }
}
