import { rmSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { describe, expect, it } from "vitest"
import { bot, command, freshFolder } from "./program.ts"

describe("a stranger's first start", () => {
  it("shows a text of the example garden within ten seconds, and takes an answer", async () => {
    const data = freshFolder("example")
    const began = bot(["--example"], { RYEBELL_DATA: data })
    await began.says(/text to Ines \(\d+ characters, [12] segments?\)/, 10_000)
    const n = /\bDONE (\d+)/.exec(began.text())?.[1]
    began.type(n ? `done ${n}` : "watered frame")
    await began.says("Reply UNDO")
    await began.stop()
    expect(began.child.exitCode).toBe(0)
    rmSync(data, { recursive: true, force: true })
  })

  it("without a garden file and without a terminal says what to do, exit status 1", async () => {
    const folder = freshFolder("none")
    const ran = await command(["run"], { env: { RYEBELL_GARDEN: join(folder, "garden.yaml"), RYEBELL_DATA: folder } })
    expect(ran.status).toBe(1)
    expect(ran.err).toContain("config/examples/one-bed.yaml")
    rmSync(folder, { recursive: true, force: true })
  })

  it("names a wrong setting, a wrong option and a wrong command with the nearest right one, exit status 2", async () => {
    const setting = await command(["plan"], { env: { RYEBELL_GARDN: "x" } })
    expect([setting.status, setting.err]).toEqual([2, expect.stringContaining("RYEBELL_GARDEN")])
    const option = await command(["plan", "--beds", "south"])
    expect([option.status, option.err]).toEqual([2, expect.stringContaining("--bed")])
    const wrong = await command(["plann"])
    expect([wrong.status, wrong.err]).toEqual([2, expect.stringContaining("plan")])
  })

  it("refuses a trial clock beside a live mail server, exit status 2 (C12)", async () => {
    const env = {
      RYEBELL_CLOCK: "2026-05-01T08:00:00Z",
      SMTP_URL: "smtps://mail.example.org",
      MAIL_FROM: "a@example.org",
    }
    const ran = await command(["run"], { env })
    expect([ran.status, ran.err]).toEqual([2, expect.stringContaining("RYEBELL_CLOCK")])
  })

  it("shows every broken line of a garden file at once, exit status 2", async () => {
    const folder = freshFolder("broken")
    const file = join(folder, "garden.yaml")
    writeFileSync(
      file,
      "garden: Acre\nplace:\n  latitude: 40\n  longitude: -76\n  zone: America/NewYork\nbeds:\n  - id: south\n    name: South\n    size: 4 x 8 ft\n    sowings:\n      - sown: 2026-02-30\n        species: [hairy-vetsch]\n",
    )
    const ran = await command(["check", file])
    expect(ran.status).toBe(2)
    for (const words of ["garden.yaml:5:", "America/New_York", "garden.yaml:11:", "garden.yaml:12:", "hairy-vetch"])
      expect(ran.err).toContain(words)
    rmSync(folder, { recursive: true, force: true })
  })
})
