import { createHash } from "node:crypto"
import { readFileSync, rmSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { DatabaseSync } from "node:sqlite"
import { simpleParser } from "mailparser"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { DATABASE } from "../../src/store/open.ts"
import { smtpStandIn } from "../stand-ins/mail-smtp.ts"
import { type Bot, bot, freshFolder } from "./program.ts"

const PORT = 18317
const OWN = `http://127.0.0.1:${PORT}`
/**
 * Everything that a visit could change. Not here: leases and the times of the next look, the scheduler's marks of life, and
 * the mark by which health sees that the disk can be written on; they move with the clock.
 */
const TABLES = {
  entry: "",
  incoming: "",
  outgoing: "",
  reminder: "",
  kept_garden: "",
  memory: "where name not in ('tick', 'away', 'probe')",
}

const EXAMPLE = readFileSync(new URL("../../config/garden.yaml", import.meta.url), "utf8")

/** Addresses that a reader could follow or a filter could fetch: links, pictures, and the targets of forms apart. */
function addressesOf(html: string): { links: string[]; forms: string[] } {
  const of = (names: string) =>
    [...html.matchAll(new RegExp(`\\s(?:${names})="([^"]+)"`, "g"))].map((match) =>
      (match[1] as string).replaceAll("&amp;", "&"),
    )
  return { links: of("href|src"), forms: of("action|formaction") }
}

async function quiet(count: () => number, least: number): Promise<void> {
  const end = Date.now() + 60_000
  let [seen, since] = [count(), Date.now()]
  while (seen < least || Date.now() - since < 4_000) {
    if (Date.now() > end) throw new Error(`${seen} mails came in a minute, and ${least} at least were waited for`)
    await new Promise((resolve) => setTimeout(resolve, 100))
    if (count() !== seen) [seen, since] = [count(), Date.now()]
  }
}

describe("a mail filter that opens every link of every mail and page of the running bot (failure M4)", () => {
  const data = freshFolder("crawl")
  let smtp: Awaited<ReturnType<typeof smtpStandIn>>
  let running: Bot

  /** A sum of each table, as the running program has it on the disk. */
  function state(): Record<string, string> {
    const db = new DatabaseSync(join(data, DATABASE), { readOnly: true })
    try {
      return Object.fromEntries(
        Object.entries(TABLES).map(([table, where]) => {
          const rows = db.prepare(`select * from ${table} ${where}`).all()
          return [table, `${rows.length} rows, ${createHash("sha256").update(JSON.stringify(rows)).digest("hex")}`]
        }),
      )
    } finally {
      db.close()
    }
  }

  beforeAll(async () => {
    const garden = join(data, "garden.yaml")
    // Both people take their nudges by mail, so that there are mails of every kind.
    writeFileSync(garden, EXAMPLE.replace("by: text ", "by: mail "))
    smtp = await smtpStandIn()
    const env = {
      RYEBELL_DATA: data,
      RYEBELL_GARDEN: garden,
      LOG_LEVEL: "warn",
      PORT: String(PORT),
      PUBLIC_URL: OWN,
      SMTP_URL: smtp.url,
      MAIL_FROM: "Ryebell <bot@example.org>",
    }
    // Saturday, 08:30 in New York: Walt's weekly mail, and what is due for Ines.
    running = bot(["run"], { ...env, RYEBELL_CLOCK: "2026-05-09T12:30:05Z" })
    await running.says("Ryebell is running")
    await quiet(() => smtp.taken.length, 2)
    await running.stop()
    // Sunday, 17:00: Ines' weekly mail. Links of the mails before work after the restart too.
    running = bot(["run"], { ...env, RYEBELL_CLOCK: "2026-05-10T21:00:05Z" })
    await running.says("Ryebell is running")
    await quiet(() => smtp.taken.length, smtp.taken.length + 1)
  })

  afterAll(async () => {
    await running?.stop()
    await smtp.close()
    rmSync(data, { recursive: true, force: true })
  })

  it("changes nothing by GET and HEAD, finds every link in order, and finds none that leads elsewhere", async () => {
    const waiting: { path: string; form: boolean }[] = []
    const elsewhere: string[] = []
    const add = (address: string, form: boolean, from: string) => {
      if (/^(cid:|data:|mailto:|#)/.test(address)) return
      const url = new URL(address, from)
      if (url.origin === OWN) waiting.push({ path: `${url.pathname}${url.search}`, form })
      else elsewhere.push(address)
    }
    const take = (html: string, from: string) => {
      const { links, forms } = addressesOf(html)
      for (const each of links) add(each, false, from)
      for (const each of forms) add(each, true, from)
    }
    const kinds = new Set<string>()
    for (const { raw } of smtp.taken) {
      const mail = await simpleParser(raw)
      kinds.add(mail.html ? "weekly mail" : "nudge")
      take(mail.html || "", OWN)
      for (const [address] of (mail.text ?? "").matchAll(/https?:\/\/[^\s>]+/g)) add(address, false, OWN)
      const unsubscribe = /^List-Unsubscribe:([\s\S]*?)\r\n(?=\S)/im.exec(raw.toString())?.[1] ?? ""
      const stop = [...unsubscribe.matchAll(/<(https?:[^>]+)>/g)].map((match) =>
        (match[1] as string).replaceAll(/\s/g, ""),
      )
      expect(stop).toHaveLength(1)
      add(stop[0] as string, false, OWN)
    }
    expect([...kinds].toSorted()).toEqual(["nudge", "weekly mail"])
    waiting.push({ path: "/health", form: false })

    const before = state()
    const seen = new Map<string, { get: number; head: number; form: boolean }>()
    while (waiting.length > 0) {
      const { path, form } = waiting.pop() as { path: string; form: boolean }
      if (seen.has(path)) continue
      const head = await fetch(`${OWN}${path}`, { method: "HEAD", redirect: "manual" })
      const got = await fetch(`${OWN}${path}`, { redirect: "manual" })
      seen.set(path, { get: got.status, head: head.status, form })
      const body = await got.text()
      if (!form && got.headers.get("content-type")?.startsWith("text/html")) take(body, `${OWN}${path}`)
    }
    expect(state()).toEqual(before)

    const all = [...seen.values()]
    const [links, forms] = [all.filter(({ form }) => !form), all.filter(({ form }) => form)]
    console.log(`crawled ${links.length} links and ${forms.length} targets of forms out of ${smtp.taken.length} mails`)
    expect(links.length).toBeGreaterThanOrEqual(20)
    expect(links.filter(({ get, head }) => get !== 200 || head !== 200)).toEqual([])
    // What only takes a POST is not there for GET; many of them in a minute are too many wrong addresses.
    expect(forms.length).toBeGreaterThan(3)
    expect(forms.filter(({ get, head }) => ![404, 429].includes(get) || ![404, 429].includes(head))).toEqual([])
    expect(elsewhere).toEqual([])
  })

  it("would have been seen if it had changed something: one press of a button does", async () => {
    const before = state()
    const { html } = await simpleParser(smtp.taken.find(({ raw }) => /text\/html/.test(raw.toString()))?.raw ?? "")
    const season = /href="([^"]+\/season\/[^"/#]+)[^"]*"/.exec(html || "")?.[1] as string
    const page = await (await fetch(season)).text()
    const note = page.split("<form").find((each) => each.includes('/note"')) ?? ""
    const value = (name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(note)?.[1] ?? ""
    const answer = await fetch(`${season}/note`, {
      method: "POST",
      redirect: "manual",
      headers: { origin: OWN },
      body: new URLSearchParams({ form: value("form"), seen: value("seen"), text: "first purple on the long one" }),
    })
    expect(answer.status).toBe(303)
    const after = state()
    expect(Object.keys(after).filter((table) => after[table] !== before[table])).toEqual(
      expect.arrayContaining(["entry", "incoming"]),
    )
  })
})
