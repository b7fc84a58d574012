import { spawnSync } from "node:child_process"
import { mkdirSync } from "node:fs"
import { join } from "node:path"

/** Preloaded shims need Linux and a C compiler; the suites that use them say so and are passed over elsewhere. */
export const hasCompiler = process.platform === "linux" && spawnSync("cc", ["--version"]).status === 0

/** Builds a shim of this folder; the path of the library. */
export function buildShim(source: string): string {
  const folder = new URL("../../node_modules/.shims/", import.meta.url).pathname
  mkdirSync(folder, { recursive: true })
  const library = join(folder, source.replace(/\.c$/, ".so"))
  const file = new URL(source, import.meta.url).pathname
  const built = spawnSync("cc", ["-shared", "-fPIC", "-O1", "-o", library, file, "-ldl"], { encoding: "utf8" })
  if (built.status !== 0) throw new Error(built.stderr)
  return library
}
