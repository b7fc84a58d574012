import {
  accessSync,
  closeSync,
  constants,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  rmSync,
  statfsSync,
  writeSync,
} from "node:fs"
import { join } from "node:path"
import { StoreTrouble } from "./trouble.ts"

/**
 * Kinds of file system on which a write-ahead log is not safe, by the number that Linux gives them: they do not share
 * memory between processes and machines as a local disk does.
 * Source: linux/magic.h and the statfs(2) manual page, from memory; SQLite's page on write-ahead logging asks for one
 * host and shared memory.
 */
const NOT_LOCAL = new Map<number, string>([
  [0x6969, "NFS"],
  [0x517b, "SMB"],
  [0xfe534d42, "SMB"],
  [0xff534d42, "SMB (CIFS)"],
  [0x65735546, "FUSE or virtiofs"],
  [0x01021997, "9p"],
  [0x00c36400, "Ceph"],
  [0x5346414f, "AFS"],
  [0x6b414653, "AFS"],
  [0x0bd00bd0, "Lustre"],
  [0x47504653, "GPFS"],
  [0x786f4256, "a folder shared by VirtualBox"],
  [0x564c, "NCP"],
])

type Statfs = (folder: string) => { type: number; bavail: number; bsize: number }

/** The kind of a folder's file system where it is one that is not local; null: local, or not known here. */
export function sharedKind(folder: string, statfs: Statfs = statfsSync): string | null {
  // Signed on some systems: brought to 32 bits without sign before it is compared.
  return NOT_LOCAL.get(statfs(folder).type >>> 0) ?? null
}

/** Bytes that we may still write on a folder's disk. */
export function freeBytes(folder: string, statfs: Statfs = statfsSync): number {
  const { bavail, bsize } = statfs(folder)
  return bavail * bsize
}

/** Makes a private folder where there is none. */
export function makeFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 })
  } catch (error) {
    throw folderTrouble(folder, folder, error)
  }
}

/**
 * Writes, syncs and removes a probe in the folder, and looks whether the files that are there may be written. Throws a
 * StoreTrouble that names the user, the path and the command that mends it; `disk-full` where there is no room for the probe.
 */
export function probeFolder(folder: string, files: readonly string[]): void {
  const probe = join(folder, `.probe-${process.pid}`)
  try {
    const fd = openSync(probe, "w", 0o600)
    try {
      writeSync(fd, "Ryebell can write here.\n")
      fsyncSync(fd)
    } finally {
      closeSync(fd)
      rmSync(probe, { force: true })
    }
  } catch (error) {
    throw folderTrouble(folder, folder, error)
  }
  for (const file of files.filter((each) => existsSync(each))) {
    try {
      accessSync(file, constants.R_OK | constants.W_OK)
    } catch (error) {
      throw folderTrouble(file, folder, error)
    }
  }
}

/** What an error of the file system means for a folder of ours, and what to do about it. */
export function folderTrouble(path: string, folder: string, error: unknown): StoreTrouble {
  const code = error instanceof Error && "code" in error ? String(error.code) : String(error)
  const cause = { cause: error }
  if (code === "ENOSPC" || code === "EDQUOT")
    return new StoreTrouble(
      "disk-full",
      `No room is left on the disk of ${folder} (${code}). Free some space and start again.`,
      cause,
    )
  if (code === "EIO")
    return new StoreTrouble(
      "io",
      `The disk of ${folder} failed a trial write (${code}). Look at the disk, then start again.`,
      cause,
    )
  const uid = process.getuid?.()
  const who = uid === undefined ? "This user" : `User ${uid}`
  const mend =
    code === "EROFS"
      ? "It is mounted read-only: mount it for writing, or set RYEBELL_DATA to another folder."
      : code === "ENOTDIR" || code === "EEXIST"
        ? "Something that is no folder stands there: set RYEBELL_DATA to another folder."
        : code === "ENOENT"
          ? "It cannot be made there, as on a disk mounted read-only: make it yourself, or set RYEBELL_DATA to another folder."
          : `To mend it: sudo chown -R ${uid ?? "USER"} ${quoted(folder)} && sudo chmod -R u+rwX ${quoted(folder)}`
  return new StoreTrouble("not-writable", `${who} cannot write ${path} (${code}). ${mend}`, cause)
}

function quoted(path: string): string {
  return /^[\w./-]+$/.test(path) ? path : `'${path.replaceAll("'", "'\\''")}'`
}
