import { createHash } from "node:crypto"
import { readdirSync, readFileSync, statSync } from "node:fs"
import { join } from "node:path"

/**
 * A name for what the program and its handbook are just now: the same on every machine that has the same files, another as
 * soon as one of them is. What was planned by another edition is planned anew.
 */
export function editionOf(folders: readonly string[]): string {
  const hash = createHash("sha256")
  for (const folder of folders) {
    for (const name of readdirSync(folder, { recursive: true, encoding: "utf8" }).sort()) {
      const file = join(folder, name)
      if (statSync(file).isFile()) hash.update(name.replaceAll("\\", "/")).update(readFileSync(file))
    }
  }
  return hash.digest("base64url").slice(0, 22)
}
