import { readFileSync, rmSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { openCarrier } from "../stand-ins/carrier.ts"
import { smtpStandIn } from "../stand-ins/mail-smtp.ts"
import { type Bot, bot, command, freshFolder } from "./program.ts"

const INES = "+17175550142"
const PORT = 18311

/** Asks until it is so. */
async function until(what: string, so: () => boolean, ms = 15_000): Promise<void> {
  const end = Date.now() + ms
  while (!so()) {
    if (Date.now() > end) throw new Error(`waited ${ms} ms for ${what}`)
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
}

describe("the running bot between a carrier and a mail server on loopback", () => {
  const data = freshFolder("wires")
  const publicUrl = "https://garden.example.org"
  let carrier: Awaited<ReturnType<typeof openCarrier>>
  let smtp: Awaited<ReturnType<typeof smtpStandIn>>
  let running: Bot
  const env: Record<string, string> = {}

  beforeAll(async () => {
    const garden = join(data, "garden.yaml")
    writeFileSync(garden, readFileSync(new URL("../../config/garden.yaml", import.meta.url), "utf8"))
    carrier = await openCarrier()
    smtp = await smtpStandIn()
    Object.assign(env, {
      RYEBELL_DATA: data,
      RYEBELL_GARDEN: garden,
      RYEBELL_CLOCK: "2026-05-09T12:30:00Z",
      LOG_LEVEL: "warn",
      PORT: String(PORT),
      PUBLIC_URL: publicUrl,
      TWILIO_ACCOUNT_SID: carrier.account,
      TWILIO_AUTH_TOKEN: carrier.token,
      TWILIO_FROM: carrier.number,
      TWILIO_API_URL: carrier.url,
      SMTP_URL: smtp.url,
      MAIL_FROM: "Ryebell <bot@example.org>",
    })
    carrier.bot = { at: `http://127.0.0.1:${PORT}`, publicUrl }
    running = bot(["run"], env)
    await running.says("Ryebell is running")
  })

  afterAll(async () => {
    await running.stop()
    await carrier.close()
    await smtp.close()
    rmSync(data, { recursive: true, force: true })
  })

  it("asks a phone first whether it wants texts, and says nothing else until it does", async () => {
    await until("the first text", () => carrier.taken.length > 0)
    expect(carrier.taken.map(({ to }) => to)).toEqual([INES])
    expect(carrier.taken[0]?.body).toContain("JOIN")
  })

  it("takes a reply by webhook, answers it by text, and logs both", async () => {
    const before = carrier.taken.length
    await carrier.hears({ from: INES, body: "JOIN" })
    await until("an answer to JOIN", () => carrier.taken.length > before)
    const then = carrier.taken.length
    await carrier.hears({ from: INES, body: "the vetch on south is blooming" })
    await until("an answer to the bloom", () =>
      carrier.taken.some(({ body }, index) => index >= then && /bloom/i.test(body ?? "")),
    )
  })

  it("stops at STOP, and says nothing more to that phone", async () => {
    const before = carrier.taken.length
    await carrier.hears({ from: INES, body: "STOP" })
    await new Promise((resolve) => setTimeout(resolve, 1500))
    await carrier.hears({ from: INES, body: "cut the tunnel" })
    await new Promise((resolve) => setTimeout(resolve, 1500))
    expect(carrier.taken.slice(before).map(({ body }) => body)).toEqual([])
  })

  it("sends the weekly mail signed off with a way to stop", async () => {
    const signedOff = () => smtp.taken.some(({ raw }) => /^List-Unsubscribe:/im.test(raw.toString()))
    await until("the weekly mail", signedOff, 20_000)
  })

  it("broke nothing of the carrier's published interface", () => {
    expect(carrier.violations).toEqual([])
  })

  it("has every word in its log", async () => {
    const log = await command(["log", "--json"], {
      env: { RYEBELL_DATA: data, RYEBELL_GARDEN: env.RYEBELL_GARDEN as string },
    })
    const texts = log.out
      .split("\n")
      .filter(Boolean)
      .map((line) => JSON.parse(line))
      .filter((entry) => entry.kind === "reply")
      .map((entry) => entry.text)
    expect(texts).toEqual(["JOIN", "the vetch on south is blooming", "STOP", "cut the tunnel"])
  })
})
