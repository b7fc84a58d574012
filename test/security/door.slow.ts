import { readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { createServer } from "node:http"
import { type AddressInfo, connect } from "node:net"
import { join } from "node:path"
import { gzipSync } from "node:zlib"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { type Bot, bot, command, freshFolder } from "../acceptance/program.ts"
import { openCarrier } from "../stand-ins/carrier.ts"
import { inboundForm, signatureOf } from "../stand-ins/carrier-webhooks.ts"
import { PAYLOADS } from "../wording/payloads.ts"

const INES = "+17175550142"
const PORT = 18313
const here = `http://127.0.0.1:${PORT}`
const publicUrl = "https://bell.example.org"
const SECRET = "the-key-of-this-trial-and-no-other"

/** Strangers at the door of the whole running bot: forged, copied, guessed, too large, too slow, or with words that mean harm. */
describe("strangers at the door of the running bot", () => {
  const folder = freshFolder("door")
  const data = join(folder, "data")
  const garden = join(folder, "garden.yaml")
  let carrier: Awaited<ReturnType<typeof openCarrier>>
  let inner: ReturnType<typeof createServer>
  let innerHits = 0
  let running: Bot
  let links: string[] = []

  beforeAll(async () => {
    writeFileSync(garden, readFileSync(new URL("../../config/garden.yaml", import.meta.url), "utf8"))
    carrier = await openCarrier()
    inner = createServer((_, response) => {
      innerHits += 1
      response.writeHead(200, { "content-type": "image/png" }).end("x")
    })
    await new Promise<void>((resolve) => inner.listen(0, "127.0.0.1", resolve))
    running = bot(["run"], {
      RYEBELL_DATA: data,
      RYEBELL_GARDEN: garden,
      RYEBELL_CLOCK: "2026-05-09T12:30:00Z",
      LOG_LEVEL: "debug",
      PORT: String(PORT),
      PUBLIC_URL: publicUrl,
      SECRET_KEY: SECRET,
      TWILIO_ACCOUNT_SID: carrier.account,
      TWILIO_AUTH_TOKEN: carrier.token,
      TWILIO_FROM: carrier.number,
      TWILIO_API_URL: carrier.url,
    })
    carrier.bot = { at: here, publicUrl }
    await running.says("Season page of Walt", 30_000)
    links = [...running.text().matchAll(/Season page of \w+: (\S+)/g)].map((found) => found[1] ?? "")
    await carrier.hears({ from: INES, body: "join" })
    // A weekly mail is due at this hour: what it adds to the log must not be taken for a stranger's doing.
    for (let i = 0; i < 240 && !(await entries()).includes('"kind":"digest"'); i += 1)
      await new Promise((resolve) => setTimeout(resolve, 250))
    expect(await entries()).toContain('"kind":"digest"')
  })

  afterAll(async () => {
    await running.stop()
    await carrier.close()
    inner.close()
    rmSync(folder, { recursive: true, force: true })
  })

  const entries = async () =>
    (await command(["log", "--json"], { env: { RYEBELL_DATA: data, RYEBELL_GARDEN: garden } })).out
  const words = async () =>
    (await entries())
      .split("\n")
      .filter(Boolean)
      .map((line) => JSON.parse(line))
      .filter((entry) => entry.kind === "reply")
      .map((entry) => entry.text)
  const formOf = (n: number, body: string, more: Record<string, string> = {}) =>
    Object.entries({
      ...inboundForm(
        carrier.account,
        { sid: `SM${n.toString(16).padStart(32, "0")}`, from: INES, to: carrier.number, body },
        [],
        {},
      ),
      ...more,
    })
  const post = (form: [string, string][], signature: string | null, over: RequestInit = {}) =>
    fetch(`${here}/twilio/inbound`, {
      method: "POST",
      headers: {
        "content-type": "application/x-www-form-urlencoded",
        ...(signature === null ? {} : { "x-twilio-signature": signature }),
        ...(over.headers as Record<string, string> | undefined),
      },
      body: over.body ?? new URLSearchParams(form).toString(),
    })
  const signed = (form: [string, string][], token = carrier.token) =>
    signatureOf(token, `${publicUrl}/twilio/inbound`, form)

  /** A text that the carrier really has, as it would post it; a new store asks whether it does (X3). */
  const genuine = async (n: number, body: string, more: Record<string, string> = {}) => {
    await carrier.hears({ from: INES, body, sid: `SM${n.toString(16).padStart(32, "0")}`, post: false })
    return formOf(n, body, more)
  }

  it("a hundred forged webhooks are refused and leave the log as it was (X1)", async () => {
    const before = await entries()
    for (let i = 0; i < 100; i += 1) {
      const form = formOf(i, "stop")
      const good = signed(form)
      const bad =
        [null, "", "AAAA", signed(form, "0".repeat(32)), signed(formOf(i, "start")), good.toLowerCase()][i % 6] ?? null
      expect((await post(form, bad)).status).toBe(403)
    }
    expect(await entries()).toBe(before)
  })

  it("a webhook played a thousand times counts once (X3)", async () => {
    const form = await genuine(5000, "south is 41 cm tall")
    for (let i = 0; i < 1000; i += 1) expect((await post(form, signed(form))).status).toBe(200)
    expect((await words()).filter((text) => text === "south is 41 cm tall")).toHaveLength(1)
  })

  it("a webhook that the carrier never sent is refused by a store that is new, signed as it may be (X3)", async () => {
    const before = await entries()
    const form = formOf(5001, "stop")
    expect((await post(form, signed(form))).status).toBe(403)
    expect(await entries()).toBe(before)
  })

  it("links that are guessed, cut, joined or changed open nothing and look all the same (X5)", async () => {
    const before = await entries()
    const token = (links[0] ?? "").split("/").at(-1) ?? ""
    expect((await fetch(`${here}/season/${token}`)).status).toBe(200)
    const guesses = [
      ...Array.from({ length: 200 }, (_, i) => `${token.slice(0, -1)}${"abcdefghij"[i % 10]}${i}`),
      ...Array.from(
        { length: token.length },
        (_, i) => token.slice(0, i) + (token[i] === "A" ? "B" : "A") + token.slice(i + 1),
      ),
      token.toUpperCase(),
      `${token}.${token}`,
      "..%2f..%2fetc%2fpasswd",
      "__proto__",
      "%00",
      "constructor",
    ]
    const answers = new Set<string>()
    for (const [i, guess] of guesses.entries()) {
      const kind = ["season", "calendar", "mail"][i % 3]
      const answer = await fetch(
        `${here}/${kind}/${guess}${kind === "calendar" ? ".ics" : kind === "mail" ? "/stop" : ""}`,
        { method: i % 2 ? "POST" : "GET" },
      )
      const text = (await answer.text()).length
      answers.add(`${answer.status} ${text}`)
    }
    // The last letter of a token in base64url carries bits that belong to no byte: two of its letters may be the same token.
    expect(
      [...answers].every((each) => /^(404|429|403) /.test(each)),
      [...answers].join(),
    ).toBe(true)
    expect(await entries()).toBe(before)
  })

  it("bodies that are too large or packed are refused (X15)", async () => {
    const before = await words()
    const large = await genuine(6000, "a".repeat(70_000))
    expect((await post(large, signed(large))).status).toBe(413)
    const form = await genuine(6001, "south is 42 cm tall")
    const packed = gzipSync(Buffer.alloc(20_000_000, "a"))
    expect((await post(form, signed(form), { body: packed, headers: { "content-encoding": "gzip" } })).status).toBe(415)
    const huge = new ReadableStream({
      pull(controller) {
        controller.enqueue(new Uint8Array(1 << 20))
      },
    })
    const cut = await fetch(`${here}/twilio/inbound`, {
      method: "POST",
      body: huge,
      duplex: "half",
    } as RequestInit).then(
      (answer) => answer.status,
      () => "cut off",
    )
    expect([413, "cut off"]).toContain(cut)
    expect(await words()).toEqual(before)
    expect((await fetch(`${here}/health`)).status).toBe(200)
  })

  it("bodies and headers that trickle in are cut off, and others are served meanwhile (X15)", async () => {
    const closed: Promise<number>[] = []
    const began = performance.now()
    for (let i = 0; i < 40; i += 1) {
      const socket = connect(PORT, "127.0.0.1")
      socket.on("error", () => {})
      closed.push(new Promise((resolve) => socket.once("close", () => resolve(performance.now() - began))))
      socket.write("POST /twilio/inbound HTTP/1.1\r\nHost: x\r\n")
      if (i % 2) socket.write("Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 60000\r\n\r\n")
      const drip = setInterval(() => socket.write("a"), 1000)
      socket.once("close", () => clearInterval(drip))
    }
    expect((await fetch(`${here}/health`)).status).toBe(200)
    const form = await genuine(6100, "west is 12 cm tall")
    expect((await post(form, signed(form))).status).toBe(200)
    // 30 s for a whole request, looked at every 30 s.
    expect(Math.max(...(await Promise.all(closed)))).toBeLessThan(75_000)
  }, 120_000)

  it("pictures at inner addresses are not fetched; the words they came with are kept (X14)", async () => {
    const { port } = inner.address() as AddressInfo
    const addresses = [
      `http://127.0.0.1:${port}/latest/meta-data/`,
      `http://localhost:${port}/`,
      `http://[::1]:${port}/`,
      `http://0x7f000001:${port}/`,
      `http://user@127.0.0.1:${port}/`,
      "http://169.254.169.254/latest/meta-data/",
      "file:///etc/passwd",
      `${carrier.url}.example.org/x`,
    ]
    for (const [i, address] of addresses.entries()) {
      const form = await genuine(7000 + i, `picture ${i}`, {
        NumMedia: "1",
        MediaUrl0: address,
        MediaContentType0: "image/png",
      })
      expect((await post(form, signed(form))).status).toBe(200)
    }
    await new Promise((resolve) => setTimeout(resolve, 2000))
    expect(innerHits).toBe(0)
    const kept = await words()
    for (const i of addresses.keys()) expect(kept).toContain(`picture ${i}`)
  })

  it("words that look like markup, headers, formulas or events stay words on page, feed and sheet (X11, X12, X13)", async () => {
    const season = new URL(links[0] ?? "").pathname
    const page = async () => (await fetch(here + season)).text()
    const feed = /href="([^"]*\.ics)"/.exec(await page())?.[1] ?? ""
    const events = async () =>
      (await (await fetch(here + new URL(feed, here).pathname)).text()).split("BEGIN:VEVENT").length
    const [elements, before] = [(await page()).match(/<script|<img|<iframe|onerror=/gi)?.length ?? 0, await events()]
    const harmful = [
      ...PAYLOADS.slice(0, 20),
      "x\r\nBEGIN:VEVENT\r\nSUMMARY:y\r\nEND:VEVENT",
      "x\r\nBcc: thief@example.net\r\n\r\nhello",
      '=HYPERLINK("http://example.net")',
      "@SUM(1)",
      "\t=1+1",
    ]
    for (const [i, text] of harmful.entries()) {
      const form = await genuine(8000 + i, text)
      expect((await post(form, signed(form))).status).toBe(200)
    }
    await new Promise((resolve) => setTimeout(resolve, 2000))
    expect(before).toBeGreaterThan(1)
    expect(await events()).toBe(before)
    const pages = (await page()) + (await (await fetch(`${here}${season}/log`)).text())
    expect(pages.match(/<script|<img|<iframe/gi)?.length ?? 0).toBeLessThanOrEqual(2 * elements)
    const sheet = (await command(["log", "--csv"], { env: { RYEBELL_DATA: data, RYEBELL_GARDEN: garden } })).out
    expect(sheet).toContain("HYPERLINK")
    // A tab that a program strips must not lay a formula bare either.
    expect(sheet).not.toMatch(/(^|,)"?\s*[=@]/m)
  })

  it("have left no phone, no address, no key, no link and no words in the operator's log (X6, X8)", () => {
    const said = running
      .text()
      .split("\n")
      .filter((line) => line.startsWith("{"))
    expect(said.length).toBeGreaterThan(100)
    for (const line of said) expect(() => JSON.parse(line)).not.toThrow()
    const log = said.join("\n")
    const tokens = links.map((link) => link.split("/").at(-1) ?? "")
    for (const each of [...tokens, carrier.token, SECRET, "7175550142", "ines@example.org", "HYPERLINK", "41 cm tall"])
      expect(log).not.toContain(each)
  })

  it("have left no file behind but the bot's own (X14, X15)", () => {
    const files = readdirSync(data, { recursive: true, encoding: "utf8" })
    expect(files.filter((file) => file.startsWith("photos/"))).toEqual([])
  })
})
