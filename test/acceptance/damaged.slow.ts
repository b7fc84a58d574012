import { readFileSync, rmSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { afterAll, describe, expect, it } from "vitest"
import { openCarrier } from "../stand-ins/carrier.ts"
import { type Bot, bot, command, freshFolder } from "./program.ts"

const PORT = 18312
const address = `http://127.0.0.1:${PORT}`

describe("a start over a damaged database (S13)", () => {
  const folder = freshFolder("damaged")
  const data = join(folder, "data")
  const file = join(data, "ryebell.db")
  const backup = join(folder, "backup.db")
  const env: Record<string, string> = {
    RYEBELL_DATA: data,
    RYEBELL_GARDEN: new URL("../../config/garden.yaml", import.meta.url).pathname,
    RYEBELL_CLOCK: "2026-05-09T12:30:00Z",
    PORT: String(PORT),
    LOG_LEVEL: "warn",
  }
  const started: Bot[] = []
  const start = (more: Record<string, string> = {}) => {
    const made = bot(["run"], { ...env, ...more })
    started.push(made)
    return made
  }
  afterAll(async () => {
    for (const each of started) await each.kill()
    rmSync(folder, { recursive: true, force: true })
  })

  it("stays up, sends nothing, takes nothing, changes no byte, and health says what to do", async () => {
    const first = start()
    await first.says("text to Ines", 30_000)
    first.type("south is 41 cm tall")
    await first.says("A height of 16 in")
    expect((await command(["backup", backup], { env })).status).toBe(0)
    await first.stop()
    const bytes = readFileSync(file)
    // The second page holds a table, which no page in the middle of a file need do.
    bytes.fill(0x5a, 4096, 8192)
    writeFileSync(file, bytes)

    const carrier = await openCarrier()
    carrier.bot = { at: address, publicUrl: "https://garden.example.org" }
    const held = start({
      PUBLIC_URL: "https://garden.example.org",
      TWILIO_ACCOUNT_SID: carrier.account,
      TWILIO_AUTH_TOKEN: carrier.token,
      TWILIO_FROM: carrier.number,
      TWILIO_API_URL: carrier.url,
    })
    await held.says("is damaged", 30_000)
    held.type("done 1")
    await held.says("That was not taken")
    const health = await fetch(`${address}/health`)
    expect(health.status).toBe(503)
    expect(await health.json()).toMatchObject({ ok: false, hold: expect.stringContaining("ryebell restore FILE") })
    for (const path of ["/twilio/inbound", "/season/abc", "/mail/abc/stop"])
      expect((await fetch(`${address}${path}`, { method: "POST", body: "Body=STOP" })).status).toBe(503)
    expect((await command(["serve-check"], { env })).status).toBe(1)
    expect(held.child.exitCode).toBeNull()
    expect(carrier.asked).toEqual([])
    expect(carrier.taken).toEqual([])
    await held.stop()
    await carrier.close()
    expect(readFileSync(file).equals(bytes)).toBe(true)
  }, 120_000)

  it("goes on from a backup in a new folder, in hold until somebody ends it", async () => {
    const env2 = { ...env, RYEBELL_DATA: join(folder, "again") }
    expect((await command(["restore", backup], { env: env2 })).status).toBe(0)
    const again = start(env2)
    await again.says("--end-hold", 30_000)
    const health = await fetch(`${address}/health`)
    expect(await health.json()).toMatchObject({ ok: false, store: "ok", hold: expect.stringContaining("backup") })
    await again.stop()
    const log = await command(["log"], { env: env2 })
    expect(log.out).toContain("41 cm")
  }, 120_000)
})
