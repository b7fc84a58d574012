import { spawnSync } from "node:child_process"
import { readdirSync } from "node:fs"

/** Runs every bench of this folder in a process of its own, one after the other, so that none warms or crowds another. */
const here = new URL("./", import.meta.url)
const benches = readdirSync(here)
  .filter((name) => name.endsWith(".ts") && name !== "all.ts")
  .sort()
for (const bench of benches) {
  console.log(`\n${bench.replace(/\.ts$/, "")}`)
  const { status } = spawnSync(process.execPath, ["--expose-gc", new URL(bench, here).pathname], { stdio: "inherit" })
  if (status !== 0) process.exitCode = 1
}
