import { mkdtempSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterEach, onTestFailed } from "vitest"

/**
 * Temporary folders for the tests of one file: removed after each test, kept where it failed, with a line that says where
 * they are.
 */
export function temporaryFolders(): () => string {
  let folders: string[] = []
  let failed = false
  afterEach(() => {
    if (failed) console.error(`kept for a look: ${folders.join(", ")}`)
    else for (const folder of folders) rmSync(folder, { recursive: true, force: true })
    folders = []
    failed = false
  })
  return () => {
    const folder = mkdtempSync(join(tmpdir(), "ryebell-store-"))
    folders.push(folder)
    onTestFailed(() => {
      failed = true
    })
    return folder
  }
}
