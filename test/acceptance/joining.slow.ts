import { rmSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { type ParsedMail, simpleParser } from "mailparser"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { openCarrier } from "../stand-ins/carrier.ts"
import { type Dovecot, noDovecot, startDovecot } from "../stand-ins/mail-dovecot.ts"
import { smtpStandIn } from "../stand-ins/mail-smtp.ts"
import { type Bot, bot, command, freshFolder } from "./program.ts"

const PORT = 18323
const BASE = `http://127.0.0.1:${PORT}`
const INES = "+17175550142"
const SAM = "+17175550150"
const ANN = "ann@example.org"
const BOX = "bot"
const CLUB = `
garden: Spring Street
invite: rootwork
place: { latitude: 40.04, longitude: -76.31, zone: America/New_York, units: us, dates: month-first }
people: [{ id: ines, name: Ines, phone: "${INES}", email: ines@example.org }]
beds: [{ id: shared, name: Shared bed, size: 4 x 8 ft }]
`

async function until(what: string, so: () => boolean | Promise<boolean>, ms = 40_000): Promise<void> {
  const end = Date.now() + ms
  while (!(await so())) {
    if (Date.now() > end) throw new Error(`waited ${ms} ms for ${what}`)
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

const NO_MAILBOX = noDovecot()

describe.skipIf(NO_MAILBOX)(NO_MAILBOX ?? "the running bot, joined by text and by mail", () => {
  const data = freshFolder("joining")
  const env: Record<string, string> = {}
  let carrier: Awaited<ReturnType<typeof openCarrier>>
  let smtp: Awaited<ReturnType<typeof smtpStandIn>>
  let dovecot: Dovecot
  let running: Bot
  let started: Date

  /** Starts the program at a moment of its own clock, and waits until it reads the mailbox. */
  async function start(moment: string): Promise<void> {
    started = new Date(moment)
    running = bot(["run"], { ...env, RYEBELL_CLOCK: moment })
    await running.says("the mailbox is open")
    await running.says("Ryebell is running")
    await pause(2000)
  }

  const texts = () => carrier.taken.filter(({ to }) => to === SAM).map(({ body }) => body ?? "")
  const mails = async (to = ANN): Promise<ParsedMail[]> =>
    Promise.all(smtp.taken.filter((mail) => mail.to.includes(to)).map(({ raw }) => simpleParser(raw)))

  /** Sam texts, and is answered. */
  async function texted(body: string): Promise<string> {
    const before = texts().length
    await carrier.hears({ from: SAM, body })
    await until(`an answer to ${body}`, () => texts().length > before)
    return texts().at(-1) ?? ""
  }

  let count = 0
  /** Ann mails: a new mail, or by the reply button of the last one that she got. */
  async function mailed(words: string, head: string[] = [], from = ANN): Promise<void> {
    count += 1
    const last = (await mails()).at(-1)
    const thread = last?.messageId && head.length === 0 ? [`In-Reply-To: ${last.messageId}`] : head
    const lines = [
      `From: Ann <${from}>`,
      "To: bot@example.org",
      "Subject: garden",
      `Message-ID: <ann-${count}@example.org>`,
      "MIME-Version: 1.0",
      "Content-Type: text/plain; charset=utf-8",
      ...thread,
      "",
      `${words}\n\n-- \nAnn`,
    ]
    await dovecot.deliver(BOX, lines.join("\r\n"), started)
  }

  async function mailedAndAnswered(words: string): Promise<string> {
    const before = (await mails()).length
    await mailed(words)
    await until(`an answer by mail to ${words}`, async () => (await mails()).length > before)
    return ((await mails()).at(-1)?.text ?? "").replace(/\s+/g, " ")
  }

  beforeAll(async () => {
    const garden = join(data, "garden.yaml")
    writeFileSync(garden, CLUB)
    carrier = await openCarrier()
    smtp = await smtpStandIn()
    dovecot = await startDovecot()
    Object.assign(env, {
      RYEBELL_DATA: data,
      RYEBELL_GARDEN: garden,
      LOG_LEVEL: "info",
      PORT: String(PORT),
      PUBLIC_URL: BASE,
      TWILIO_ACCOUNT_SID: carrier.account,
      TWILIO_AUTH_TOKEN: carrier.token,
      TWILIO_FROM: carrier.number,
      TWILIO_API_URL: carrier.url,
      SMTP_URL: smtp.url,
      MAIL_FROM: "Ryebell <bot@example.org>",
      IMAP_URL: dovecot.url(BOX),
    })
    carrier.bot = { at: BASE, publicUrl: BASE }
    // Monday, 10:00 in New York.
    await start("2026-05-11T14:00:00Z")
  }, 120_000)

  afterAll(async () => {
    await running?.stop()
    await carrier.close()
    await smtp.close()
    await dovecot?.stop()
    rmSync(data, { recursive: true, force: true })
  })

  it("lets somebody in by text, in one short talk", async () => {
    expect(await texted("Rootwork")).toMatch(/^Ryebell for Spring Street.*Reply JOIN to start.*STOP to end/)
    expect(await texted("JOIN")).toMatch(/first name/)
    expect(await texted("Sam")).toMatch(/first bed/)
    expect(await texted("Long bed, 4 x 8 ft")).toMatch(/Which cover/)
    expect(await texted("rye 60, hairy vetch 40, 20 Sep")).toMatch(/^You are in, Sam: Long bed/)
  })

  it("lets somebody in by mail, answering a mail of nobody's proof once, and machines and strangers never", async () => {
    await mailed("rootwork", ["Auto-Submitted: auto-replied"], "machine@example.org")
    await mailed("rootwork", ["Return-Path: <>", "X-Failed-Recipients: x@example.org"], "mailer-daemon@example.org")
    await mailed("buy my seeds", ["X-Kind: shop"], "shop@example.org")
    await mailed("rootwork", ["X-Kind: first"])
    await until("the first mail", async () => (await mails()).length === 1)
    expect((await mails())[0]?.text).toMatch(/^Ryebell for Spring Street[\s\S]*If it was not you, do nothing/)
    for (const words of ["rootwork", "yes", "rootwork"]) await mailed(words, ["X-Kind: not an answer"])
    await pause(3000)
    expect(await mails()).toHaveLength(1)
    expect(await mailedAndAnswered("yes")).toMatch(/first name/)
    expect(await mailedAndAnswered("Ann")).toMatch(/first bed/)
    // All of a bed in one mail.
    expect(await mailedAndAnswered("East bed, 4x8, rye and hairy vetch sown 20 Sep")).toMatch(
      /You are in, Ann: East bed/,
    )
    const others = new Set(smtp.taken.flatMap(({ to }) => to).filter((to) => to !== ANN && to !== "ines@example.org"))
    expect([...others]).toEqual([])
  }, 120_000)

  it("takes one bed more by text and by mail, and takes one back", async () => {
    expect(await texted("add bed: north, 4x8, winter rye sown 3 oct")).toMatch(/^Added: North \(4 x 8 ft\)/)
    expect(await texted("add bed")).toMatch(/What do you call the new bed/)
    expect(await texted("corner, 12 sq ft")).toMatch(/Which cover is sown in Corner/)
    expect(await texted("none")).toMatch(/^Added: Corner/)
    expect(await texted("undo")).toMatch(/^Taken back/)
    expect(await mailedAndAnswered("add bed: west, 3 m2, oats 1 may")).toMatch(/^Added: West/)
  }, 120_000)

  it("reminds each in their own way a week later, after a restart, and takes their answers", async () => {
    const before = [texts().length, (await mails()).length] as const
    await running.stop()
    await start("2026-05-21T12:05:00Z")
    const cutOf = (said: string | undefined) => /^(\d+)\) cut /m.exec(said ?? "")?.[1]
    const newTexts = () => texts().slice(before[0])
    const newMails = async () => (await mails()).slice(before[1]).map((mail) => mail.text)
    await until("a reminder by text", () => newTexts().some(cutOf))
    await until("a reminder by mail", async () => (await newMails()).some(cutOf))
    const [byText, byMail] = [newTexts().find(cutOf), (await newMails()).find(cutOf)]
    expect(byText).toMatch(/Long bed[\s\S]*North/)
    expect(byText).not.toMatch(/Corner|East bed|West/)
    expect(byMail).toMatch(/East bed[\s\S]*West/)
    expect(await texted(`done ${cutOf(byText)}`)).toMatch(/cut, noted for today/)
    expect(await mailedAndAnswered(`done ${cutOf(byMail)}`)).toMatch(/cut, noted for today/)
  }, 120_000)

  it("is silent to whoever said STOP, by the way they said it", async () => {
    await carrier.hears({ from: SAM, body: "STOP" })
    await until("the stop to be in the log", async () => (await logOf("STOP")) > 0, 60_000)
    expect(await mailedAndAnswered("Stop. Thank you")).toMatch(/no more mails to this address/)
    const before = [texts().length, (await mails()).length]
    await running.stop()
    // Sunday, 17:05 in New York: weekly mails are due, the organiser's too.
    await start("2026-05-31T21:05:00Z")
    await until("the organiser's mail", async () => (await organisers()) !== undefined)
    expect([texts().length, (await mails()).length]).toEqual(before)
  }, 180_000)

  it("shows the organiser who is reached and never what was said, and shows it to nobody else", async () => {
    const mail = (await organisers())?.text ?? ""
    const link = /http:\S+\/organiser\/\S+/.exec(mail)?.[0] ?? ""
    const page = await (await fetch(link)).text()
    for (const shown of [mail, page]) {
      expect(shown).toMatch(/2 plots, 2 people/)
      expect(shown).toMatch(/Sam/)
      for (const never of [SAM, ANN, "rootwork sown", "Thank you", "20 Sep"]) expect(shown).not.toContain(never)
    }
    const season = /List-Unsubscribe: <(http[^>]+)>/i.exec(
      smtp.taken
        .find(({ to, raw }) => to.includes(ANN) && /List-Unsubscribe/.test(raw.toString()))
        ?.raw.toString()
        .replace(/\r\n\s+/g, " ") ?? "",
    )?.[1]
    const token = season?.split("/")[4] ?? "none"
    expect((await fetch(`${BASE}/organiser/${token}`)).status).toBe(404)
    expect((await fetch(link.replace("/organiser/", "/season/"))).status).toBe(404)
  })

  it("broke nothing of the carrier's published interface", () => {
    expect(carrier.violations).toEqual([])
  })

  const organisers = async () =>
    (await mails("ines@example.org")).find((mail) => /overdue, \d+ not reached/.test(mail.subject ?? ""))

  /** How often these words are in the log of any garden. */
  async function logOf(words: string): Promise<number> {
    const log = await command(["log", "--json"], { env })
    return log.out.split("\n").filter((line) => line.includes(`"text":"${words}"`)).length
  }
})
