import { createServer, type IncomingMessage, request, type ServerResponse } from "node:http"
import type { AddressInfo } from "node:net"
import { addMs, instantOf } from "../../src/values/instant.ts"
import { type Booked as Base, idMaker, listedBy, messageJson, pageOf } from "../stand-ins/carrier-book.ts"
import { inboundForm, reportForm, signatureOf } from "../stand-ins/carrier-webhooks.ts"
import type { CarrierFaults } from "./carrier-faults.ts"
import type { Chance } from "./chance.ts"
import type { StepName } from "./steps.ts"

/** A text in the carrier's book, with its place in the order of all that happened and what the bot's clock showed. */
export type Booked = Base & { n: number; botAt: number }

/** A text of a person, and when the bot first said that it has it. */
export type Heard = Booked & { answeredAt: number | null; answeredN: number | null }

export type CarrierOptions = {
  accountSid: string
  authToken: string
  number: string
  chance: Chance
  faults: CarrierFaults
  /** True time, and the time that the bot believes. */
  now(): number
  botNow(): number
  /** The next number in the order of all that happens. */
  count(): number
  /** Where the bot's webhooks are. */
  publicUrl: string
  /** Called at each moment of the talk; `gone`: the bot was killed right there. */
  moment(step: StepName): "gone" | "on"
}

const STOP_WORDS = /^\s*(stop|stopall|unsubscribe|cancel|end|quit|revoke|optout)\s*$/i
const START_WORDS = /^\s*(start|unstop|yes)\s*$/i
const HELD_MS = 6 * 3_600_000
const MOST_WAIT_MS = 8_000

export type Carrier = Awaited<ReturnType<typeof openCarrier>>

/**
 * The stand-in carrier of the fault runs. It differs from the one for other tests in that time stands still between its
 * acts, every moment of the talk is a step at which the bot may be killed, and all that happens is numbered.
 */
export async function openCarrier(options: CarrierOptions) {
  const { chance } = options
  const faults = { ...options.faults }
  const book: Booked[] = []
  const inbox: Heard[] = []
  const blocked = new Set<string>()
  const refusedAfterStop: { to: string; n: number; key: string | null }[] = []
  const newId = idMaker(options.accountSid)
  let pending: { at: number; run(): Promise<void> }[] = []

  const server = createServer((req, res) => {
    serve(req, res).catch(() => res.destroy())
  })
  server.keepAliveTimeout = 1
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve))
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`

  async function serve(req: IncomingMessage, res: ServerResponse): Promise<void> {
    const asked = new URL(req.url ?? "/", url)
    const isList = asked.pathname.endsWith("/Messages.json")
    const isSend = req.method === "POST" && isList
    if (faults.off) return void res.destroy()
    if (isSend && options.moment("request half written") === "gone") return void res.destroy()
    let body = ""
    for await (const chunk of req) body += chunk
    const expected = `Basic ${Buffer.from(`${options.accountSid}:${options.authToken}`).toString("base64")}`
    if (req.headers.authorization !== expected) return refuse(res, 401, 20003)
    if (isSend) return take(new URLSearchParams(body), res)
    if (isList) return list(asked, res)
    if (asked.pathname.endsWith("/Media.json"))
      return json(res, 200, pageOf(asked.pathname, asked.searchParams, [], "media_list"))
    const id = /\/Messages\/(\w+)\.json$/.exec(asked.pathname)?.[1]
    const one = [...book, ...inbox].find((each) => each.sid === id)
    if (one) return json(res, 200, messageJson(options.accountSid, one, null))
    return refuse(res, 404, 20404)
  }

  async function take(form: URLSearchParams, res: ServerResponse): Promise<void> {
    const to = form.get("To") ?? ""
    const callback = form.get("StatusCallback")
    const key = callback === null ? null : new URL(callback).searchParams.get("key")
    if (options.moment("request written") === "gone") return void res.destroy()
    if (chance.is(faults.lostBefore)) return void res.destroy()
    if (chance.is(faults.tooMany)) return refuse(res, 429, 20429)
    const broken = chance.is(faults.broken)
    if (broken && chance.is(0.5)) return refuse(res, 503, 20503)
    if (chance.is(faults.stopSilently)) blocked.add(to)
    if (blocked.has(to)) {
      refusedAfterStop.push({ to, n: options.count(), key })
      return refuse(res, 400, 21610)
    }
    const validity = Number(form.get("ValidityPeriod") ?? 36_000) * 1000
    const text: Booked = {
      ...made("SM", to, options.number, form.get("Body") ?? ""),
      direction: "outbound-api",
      key,
      statusCallback: callback,
      validUntil: addMs(instantOf(options.now()), validity),
    }
    book.push(text)
    if (options.moment("request accepted") === "gone") return void res.destroy()
    const report = callback !== null && !chance.is(faults.reportNever)
    if (report) plan(text, callback, chance.is(faults.held) ? HELD_MS : 0)
    if (report && chance.is(faults.reportFirst))
      await post(callback, reportForm(options.accountSid, text, "sent", null))
    if (broken) return refuse(res, 502, 20500)
    if (chance.is(faults.lostAfter)) return void res.destroy()
    const answered = new Promise<void>((resolve) => res.once("close", resolve))
    json(res, 201, messageJson(options.accountSid, text, null))
    await answered
    options.moment("response sent")
  }

  function made(kind: "SM" | "MM", to: string, from: string, body: string): Booked {
    const at = instantOf(options.now())
    return {
      sid: newId(kind),
      direction: "inbound",
      to,
      from,
      body,
      madeAt: at,
      sentAt: at,
      status: "received",
      errorCode: null,
      key: null,
      statusCallback: null,
      validUntil: null,
      pictures: [],
      reported: [],
      n: options.count(),
      botAt: options.botNow(),
    }
  }

  /** Reports to come: each word once or twice, now and then in another order. */
  function plan(text: Booked, callback: string, held: number): void {
    const expires = text.madeAt + held > (text.validUntil ?? 0)
    const words = expires ? ["sent", "undelivered"] : ["sent", "delivered"]
    const order = chance.is(faults.reportShuffled) ? words.toReversed() : words
    order.forEach((word, index) => {
      const at = text.madeAt + held + (index + 1) * chance.whole(1_000, 90_000)
      const times = chance.is(faults.reportTwice) ? 2 : 1
      const form = reportForm(options.accountSid, text, word, word === "undelivered" ? 30036 : null)
      for (let i = 0; i < times; i += 1)
        pending.push({ at: at + i * 1_000, run: async () => void (await post(callback, form)) })
    })
  }

  function list(asked: URL, res: ServerResponse): void {
    const to = asked.searchParams.get("To")
    const forUs = to === options.number || to === null
    if (options.moment(forUs ? "inbound list read" : "asking the list") === "gone") return void res.destroy()
    if (chance.is(faults.listFails)) return refuse(res, 503, 20503)
    const seen = [...book, ...inbox]
      .filter((each) => each.madeAt <= options.now() - (each.direction === "inbound" ? 0 : faults.listLagMs))
      .filter((each) => listedBy(asked.searchParams, each))
      .sort((a, b) => b.n - a.n)
      .map((each) => messageJson(options.accountSid, each, null))
    res.once("close", () => {
      if (!forUs) options.moment("list answered")
    })
    json(res, 200, pageOf(asked.pathname, asked.searchParams, seen, "messages"))
  }

  function json(res: ServerResponse, status: number, value: unknown): void {
    if (res.destroyed) return
    const date = new Date(options.now()).toUTCString()
    res.writeHead(status, { "content-type": "application/json", date, connection: "close" })
    res.end(JSON.stringify(value))
  }

  function refuse(res: ServerResponse, status: number, code: number): void {
    json(res, status, { code, status, message: `refused with ${code}`, more_info: "https://www.example.org/errors" })
  }

  /** A person sends a text. It is posted at once or late, once or several times, and never again once that failed. */
  function send(from: string, body: string, times = 1): Heard {
    const heard: Heard = { ...made("SM", options.number, from, body), answeredAt: null, answeredN: null }
    inbox.push(heard)
    if (STOP_WORDS.test(body) && faults.blocks) blocked.add(from)
    if (START_WORDS.test(body)) blocked.delete(from)
    const copies = chance.is(faults.inboundTwice) ? times + 1 : times
    const lateMs = chance.is(0.1) ? Math.round(faults.inboundLateMs * chance.next()) : 0
    for (let i = 0; i < copies; i += 1)
      pending.push({
        at: heard.madeAt + lateMs + (i === 0 ? 0 : chance.whole(0, 600_000)),
        run: () => postHeard(heard),
      })
    return heard
  }

  async function postHeard(heard: Heard): Promise<void> {
    const fields = inboundForm(options.accountSid, heard, [], {})
    // By default the carrier tries again once, and only where it could not connect.
    for (let attempt = 0; attempt < 2; attempt += 1) {
      const status = await post(`${options.publicUrl}/twilio/inbound`, fields)
      if (status === null) continue
      if (status === 200 || status === 204) {
        heard.answeredAt ??= options.now()
        heard.answeredN ??= options.count()
        options.moment("200 sent")
      }
      return
    }
  }

  /** The status that the bot answered; null where it could not be reached. */
  function post(address: string, fields: Record<string, string>): Promise<number | null> {
    const body = new URLSearchParams(fields).toString()
    const headers = {
      "content-type": "application/x-www-form-urlencoded",
      "content-length": Buffer.byteLength(body),
      "x-twilio-signature": signatureOf(options.authToken, address, Object.entries(fields)),
    }
    return new Promise((resolve) => {
      const call = request(address, { method: "POST", agent: false, timeout: MOST_WAIT_MS, headers }, (res) => {
        res.resume()
        res.once("end", () => resolve(res.statusCode ?? null))
        res.once("error", () => resolve(null))
      })
      call.once("timeout", () => call.destroy())
      call.once("error", () => resolve(null))
      call.end(body)
    })
  }

  return {
    url,
    book,
    inbox,
    faults,
    send,
    refusedAfterStop,
    /** When something of the carrier's is next to happen. */
    nextAt: (): number => pending.reduce((first, each) => Math.min(first, each.at), Number.POSITIVE_INFINITY),
    /** Does everything whose time has come, in the order of the times; how much it was. */
    async work(): Promise<number> {
      const due = pending.filter((each) => each.at <= options.now()).sort((a, b) => a.at - b.at)
      pending = pending.filter((each) => !due.includes(each))
      for (const each of due) await each.run()
      return due.length
    },
    close: () =>
      new Promise<void>((resolve) => {
        server.close(() => resolve())
        server.closeAllConnections()
      }),
  }
}
