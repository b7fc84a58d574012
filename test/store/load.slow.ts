import { spawn, spawnSync } from "node:child_process"
import { mkdirSync, rmSync, statfsSync } from "node:fs"
import { join } from "node:path"
import { describe, expect, it } from "vitest"
import { backupStore, restoreStore } from "../../src/store/backup.ts"
import { openStore } from "../../src/store/open.ts"
import { StoreTrouble } from "../../src/store/trouble.ts"
import { temporaryFolders } from "./folders.ts"
import { GARDEN, incoming, LEASE, nudge, plus, reply, SENT, sent } from "./samples.ts"

const temporary = temporaryFolders()
const WRITER = new URL("./writer.ts", import.meta.url).pathname

describe("backups under load (S8)", () => {
  it("hold everything that was acknowledged before they began, 100 times while another process writes", async () => {
    const folder = temporary()
    const child = spawn(process.execPath, [WRITER, folder, "0"], { stdio: ["ignore", "pipe", "inherit"] })
    let acknowledged = 0
    await new Promise((resolve) => child.stdout.once("data", resolve))
    child.stdout.on("data", (chunk: Buffer) => {
      acknowledged += chunk
        .toString()
        .split("\n")
        .filter((line) => line.startsWith("entry one")).length
    })
    try {
      let last = 0
      for (let round = 0; round < 100; round += 1) {
        await new Promise((resolve) => setTimeout(resolve, 5))
        const before = acknowledged
        const file = join(temporary(), "backup.db")
        // Looks the whole copy through: pages, indexes, every sum, no number of the log missing.
        backupStore({ folder }, file)
        const target = join(temporary(), "data")
        restoreStore({ folder: target }, file, "2026-05-14T07:00:00Z")
        const restored = await openStore({ folder: target })
        const entries = await restored.entries(GARDEN)
        const ones = entries.filter((entry) => entry.kind === "reply" && entry.text.startsWith("one ")).length
        await restored.close()
        expect(ones, `round ${round}`).toBeGreaterThanOrEqual(before)
        expect(entries.length).toBeGreaterThanOrEqual(last)
        last = entries.length
        rmSync(target, { recursive: true })
      }
      console.log(`100 backups restored while ${acknowledged} rounds were written; the last held ${last} entries`)
      expect(acknowledged).toBeGreaterThan(100)
    } finally {
      child.kill("SIGKILL")
    }
  })
})

const canMount = process.platform === "linux" && process.getuid?.() === 0

/** Needs root, to mount a disk of 8 MiB. */
describe.runIf(canMount)("a disk of 8 MiB that fills up (S5)", () => {
  it("takes replies to the last, sends nothing unrecorded, loses nothing, and goes on when there is room", async () => {
    const disk = temporary()
    expect(spawnSync("mount", ["-t", "tmpfs", "-o", "size=8m", "tmpfs", disk]).status).toBe(0)
    try {
      const folder = join(disk, "data")
      mkdirSync(folder)
      const store = await openStore({ folder })
      const kept: string[] = []
      let refusedToStart = 0
      let sentAfterRefusal = 0
      let full = false
      for (let i = 0; !full && i < 20_000; i += 1) {
        try {
          await store.queue([nudge(`k${i}`, { notBefore: plus(i) })])
          const message = await store.claimOutgoing(plus(i), LEASE)
          // The send would happen here: its outcome must always find room.
          if (message) {
            expect(await store.settleOutgoing(message.key, message.attempts, SENT, [sent(`sent ${i}`)])).toBe(true)
            if (refusedToStart > 0) sentAfterRefusal += 1
          }
        } catch (error) {
          if (!(error instanceof StoreTrouble && error.code === "disk-full")) throw error
          refusedToStart += 1
        }
        try {
          await store.keepIncoming(incoming(`SM${i}`, `reply ${i} ${"x".repeat(500)}`))
          kept.push(`SM${i}`)
        } catch (error) {
          if (!(error instanceof StoreTrouble && error.code === "disk-full")) throw error
          full = true
        }
      }
      expect(full).toBe(true)
      expect(refusedToStart).toBeGreaterThan(100)
      expect(sentAfterRefusal).toBe(0)
      expect(store.notices().join()).toMatch(/MB are free.*emergencies/)
      await store.close()
      spawnSync("mount", ["-o", "remount,size=32m", disk])
      const again = await openStore({ folder })
      for (const id of kept) expect(await again.keepIncoming(incoming(id))).toBe("repeat")
      expect(await again.append([reply("room again")])).toHaveLength(1)
      expect(again.notices().join()).not.toContain("emergencies")
      await again.close()
      console.log(`${kept.length} replies kept on ${statfsSync(disk).blocks} blocks; ${refusedToStart} sends held back`)
    } finally {
      spawnSync("umount", [disk])
    }
  })
})
