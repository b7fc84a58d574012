import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeFileSync } from "node:fs"
import { dirname } from "node:path"

/**
 * Writes a small file so that a crash at any moment leaves the old one or the new one, never a part: written aside,
 * synced, renamed over, folder synced. `mode` is 0600 unless given: what we keep is private.
 */
export function writeFileAtomically(file: string, content: string | Uint8Array, mode = 0o600): void {
  const aside = `${file}.${process.pid}.new`
  try {
    const fd = openSync(aside, "w", mode)
    try {
      writeFileSync(fd, content)
      fsyncSync(fd)
    } finally {
      closeSync(fd)
    }
    renameSync(aside, file)
  } catch (error) {
    rmSync(aside, { force: true })
    throw error
  }
  syncFolder(dirname(file))
}

/** Forces a file that is there to the disk. */
export function syncFile(file: string): void {
  const fd = openSync(file, "r+")
  try {
    fsyncSync(fd)
  } finally {
    closeSync(fd)
  }
}

/** Forces names in a folder (new, renamed, removed) to the disk. Some systems cannot sync a folder: there it does nothing. */
export function syncFolder(folder: string): void {
  if (process.platform === "win32") return
  const fd = openSync(folder, "r")
  try {
    fsyncSync(fd)
  } catch (error) {
    // Network file systems may not know it; a disk that fails says EIO, and that is not passed over.
    if (!(error instanceof Error && "code" in error && (error.code === "EINVAL" || error.code === "ENOTSUP")))
      throw error
  } finally {
    closeSync(fd)
  }
}
