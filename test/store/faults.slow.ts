import { spawnSync } from "node:child_process"
import { mkdirSync, rmSync } from "node:fs"
import { constants } from "node:os"
import { join } from "node:path"
import { beforeAll, describe, expect, it } from "vitest"
import { temporaryFolders } from "./folders.ts"
import { judge } from "./kills.ts"
import { buildShim, hasCompiler } from "./shim.ts"

const WRITER = new URL("./fault-writer.ts", import.meta.url).pathname
const temporary = temporaryFolders()

/**
 * The engine's own method (its page "How SQLite Is Tested"): let the first call fail, then the second, and so on until a
 * run ends without the fault being reached. Needs Linux and a C compiler for the preloaded shim.
 */
describe.runIf(hasCompiler)("a disk that fails once", () => {
  let shim: string
  beforeAll(() => {
    shim = buildShim("faults.c")
  })

  const cases = [
    { call: "sync", errno: constants.errno.EIO, what: "at the k-th sync" },
    { call: "write", errno: constants.errno.EIO, what: "at the k-th write" },
    { call: "short", errno: constants.errno.EIO, what: "in the middle of the k-th write" },
    { call: "write", errno: constants.errno.ENOSPC, what: "for want of room at the k-th write" },
  ]
  it.each(cases)(
    "$what, for all k: stops at once, loses nothing acknowledged, opens again (S4)",
    async ({ call, errno }) => {
      const folder = join(temporary(), "data")
      let k = 0
      let troubles = 0
      for (;;) {
        k += 1
        rmSync(folder, { recursive: true, force: true })
        mkdirSync(folder)
        const env = {
          ...process.env,
          LD_PRELOAD: shim,
          FAULT_PATH: folder,
          FAULT_CALL: call,
          FAULT_AT: String(k),
          FAULT_ERRNO: String(errno),
        }
        const run = spawnSync(process.execPath, [WRITER, folder, "2"], { env, encoding: "utf8" })
        const where = `${call} ${k}: ${run.stderr}`
        const lines = run.stdout.split("\n").filter(Boolean)
        const told = lines.filter((line) => line.startsWith("trouble") || line.startsWith("then"))
        const acknowledged = lines.filter((line) => !told.includes(line))
        const verdict = await judge(folder, acknowledged)
        expect(verdict, where).toMatchObject({ missing: [], doubled: [] })
        if (!run.stderr.includes("fault struck")) {
          expect(run.status, where).toBe(0)
          break
        }
        if (told.length > 0) troubles += 1
        expect(run.status, where).toBe(told.length > 0 ? 1 : 0)
        // Nothing was acknowledged after a failure of the disk, and nothing taken any more.
        if (told[0] === "trouble io") {
          expect(
            lines.slice(lines.indexOf("trouble io") + 1).filter((line) => !line.startsWith("then")),
            where,
          ).toEqual([])
          expect(
            told.slice(1).filter((line) => line !== "then io"),
            where,
          ).toEqual([])
        }
      }
      console.log(`${call} (${errno}): ${k - 1} places, ${troubles} stopped the process, the others were of no account`)
      expect(troubles).toBeGreaterThan(0)
    },
  )
})
