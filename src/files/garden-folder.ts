import { createHash } from "node:crypto"
import { existsSync, readdirSync, statSync } from "node:fs"
import { readFile } from "node:fs/promises"
import { dirname, join } from "node:path"

/** What stands on disk where a garden file should be: its text, or why there is none. `mark` is equal where nothing changed. */
export type OnDisk = { mark: string; text: string } | { mark: string; missing: string }

/** Where the garden files of a setting are: the folder to watch, and the files in it as of now. */
export type GardenPlaceOnDisk = { folder: string; files(): string[] }

const GARDEN_FILE = /^[^.#~].*\.(?:ya?ml|json)$/i

/**
 * The garden files that a path stands for: itself, or every .yaml, .yml and .json file of a folder, in the order of their
 * names. Files that editors leave (`.x.swp`, `#x#`, `x~`) are none.
 */
export function gardenPlace(path: string): GardenPlaceOnDisk {
  if (existsSync(path) && statSync(path).isDirectory()) {
    return { folder: path, files: () => gardenFilesIn(path) }
  }
  return { folder: dirname(path), files: () => [path] }
}

/** The garden files that a path stands for and that are there now: none at the first start. */
export function gardenFiles(path: string): string[] {
  return gardenPlace(path)
    .files()
    .filter((file) => existsSync(file))
}

function gardenFilesIn(folder: string): string[] {
  try {
    const names = readdirSync(folder).filter((name) => GARDEN_FILE.test(name))
    return names.sort().map((name) => join(folder, name))
  } catch {
    // A folder that is gone for a moment holds no new files; those known are looked at one by one.
    return []
  }
}

/** Reads a garden file as it is now. Never throws: a file that cannot be read says why. */
export async function readOnDisk(file: string): Promise<OnDisk> {
  try {
    const bytes = await readFile(file)
    return { mark: createHash("sha256").update(bytes).digest("hex"), text: new TextDecoder().decode(bytes) }
  } catch (error) {
    const code = error instanceof Error && "code" in error ? String(error.code) : "unknown"
    const missing = code === "ENOENT" ? "no file" : `a file that cannot be read (${code})`
    return { mark: `missing:${code}`, missing }
  }
}
