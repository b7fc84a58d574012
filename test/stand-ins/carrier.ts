/**
 * A stand-in for the carrier of texts, on loopback. It holds every request against the published description of the
 * carrier's interface (where that lies beside the checkout), writes every message it takes into its book, reports what
 * becomes of them by signed webhooks, and fails as it is told to.
 *
 *   const carrier = await openCarrier({ now: clock.now })
 *   carrier.bot = { at: web.url, publicUrl: "https://bot.example.org" }
 *   carrier.next({ is: "lost", taken: true })                     // the next text is taken, its answer is lost
 *   carrier.knobs.listFails = 0.1                                 // a tenth of the looks into the list fail
 *   await carrier.hears({ from: "+17175550142", body: "done 1" }) // a person texts: listed, and posted to the bot
 *   await carrier.report()                                        // post what there is to report of texts taken
 *   carrier.book, carrier.violations, carrier.asked               // what happened
 */
import { createServer, type IncomingMessage, type ServerResponse } from "node:http"
import type { AddressInfo } from "node:net"
import { addMs, type Instant, instantOf } from "../../src/values/instant.ts"
import {
  type Booked,
  carrierDate,
  drawer,
  idMaker,
  listedBy,
  mediaJson,
  messageJson,
  type Picture,
  pageOf,
} from "./carrier-book.ts"
import { type CarrierOptions, calm, type Fault, type Heard, heedStop, refusalOf } from "./carrier-faults.ts"
import { type Bot, inboundForm, postWebhook, reportForm } from "./carrier-webhooks.ts"
import { type Asked, description, wrongWithAnswer, wrongWithRequest } from "./openapi.ts"

const SIX_HOURS_MS = 6 * 3_600_000
const ENDS = new Set(["delivered", "undelivered", "failed", "canceled"])

export async function openCarrier(options: CarrierOptions = {}) {
  const account = options.accountSid ?? `AC${"0b".repeat(16)}`
  const token = options.authToken ?? "12345abcde67890fghij12345klmno00"
  const number = options.number ?? "+17175550100"
  const api = options.api === undefined ? description("twilio-messages-openapi.json") : options.api
  const now = options.now ?? (() => instantOf(Date.now()))
  const draw = drawer(options.seed ?? 1)
  const newId = idMaker(String(options.seed ?? 1))
  const faults: Fault[] = []
  const waiting: { at: Instant; booked: Booked; status: string; code: number | null }[] = []
  const posting = new Set<Promise<unknown>>()
  const carrier = {
    url: "",
    account,
    token,
    number,
    /** Where webhooks go; null: nowhere. */
    bot: null as Bot | null,
    knobs: calm(),
    /** Every message, oldest first. */
    book: [] as Booked[],
    /** Numbers that the carrier does not text any more. */
    stopped: new Set<string>(),
    /** What becomes of texts to a number after they were taken; absent: delivered. */
    fates: new Map<string, { status: "delivered" | "undelivered" | "failed" | "sent"; code?: number }>(),
    /** Every request, with what was wrong about it. */
    asked: [] as { method: string; path: string; query: string; form: Record<string, string>; wrong: string[] }[],
    /** Every webhook and the HTTP status it was answered; null: the bot was not there. */
    posted: [] as { address: string; form: Record<string, string>; status: number | null; text: string }[],
    /** Requests that broke the description. */
    get violations(): string[] {
      return carrier.asked.flatMap((each) => each.wrong)
    },
    /** Texts taken, oldest first. */
    get taken(): Booked[] {
      return carrier.book.filter((each) => each.direction === "outbound-api")
    },
    /** What befalls the next texts, one after the other. */
    next(...more: Fault[]): void {
      faults.push(...more)
    },
    hears,
    report,
    async close(): Promise<void> {
      server.closeAllConnections()
      await new Promise((resolve) => server.close(resolve))
      await Promise.allSettled(posting)
    },
  }
  const server = createServer((request, response) => {
    serve(request, response).catch(() => response.destroy())
  })
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve))
  carrier.url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  return carrier

  async function serve(request: IncomingMessage, response: ServerResponse): Promise<void> {
    let body = ""
    for await (const part of request) body += part
    const url = new URL(request.url ?? "/", carrier.url)
    const form = new URLSearchParams(body)
    const path = url.pathname
    response.setHeader("date", carrierDate(now()).replace("+0000", "GMT"))
    if (path.startsWith("/cdn/")) return picture(response, path.slice(5), request.headers.authorization !== undefined)
    const media = /\/Media\/(ME[0-9a-f]{32})$/.exec(path)
    const asked: Asked = {
      method: request.method ?? "GET",
      path,
      query: url.searchParams,
      headers: Object.fromEntries(Object.entries(request.headers).map(([key, value]) => [key, String(value)])),
      form,
    }
    const wrong = api && !media ? wrongWithRequest(api, asked) : []
    carrier.asked.push({ method: asked.method, path, query: url.search, form: Object.fromEntries(form), wrong })
    if (request.headers.authorization !== `Basic ${Buffer.from(`${account}:${token}`).toString("base64")}`)
      return refuse(asked, response, 401, 20003)
    if (media) return void response.writeHead(307, { location: `${carrier.url}/cdn/${media[1]}` }).end()
    if (wrong.length > 0) return refuse(asked, response, 400, 20001)
    const base = `/2010-04-01/Accounts/${account}/Messages`
    if (asked.method === "POST" && path === `${base}.json`) return create(asked, response)
    if (asked.method === "GET" && path === `${base}.json`) return list(asked, response)
    const one = carrier.book.find((each) => path.startsWith(`${base}/${each.sid}`))
    if (!one) return refuse(asked, response, 404, 20404)
    if (path.endsWith("/Media.json")) {
      const all = one.pictures.filter((each) => !each.gone).map((each) => mediaJson(account, one, each))
      return answer(asked, response, 200, pageOf(path, url.searchParams, all, "media_list"))
    }
    return answer(asked, response, 200, messageJson(account, one, null))
  }

  function answer(
    asked: Asked,
    response: ServerResponse,
    status: number,
    body: unknown,
    headers: Record<string, string> = {},
  ): void {
    // A stand-in that says what the carrier could not say proves nothing.
    const wrong = api ? wrongWithAnswer(api, asked.method, asked.path, status, body) : []
    if (wrong.length > 0) throw new Error(`the stand-in itself broke the description: ${wrong.join("; ")}`)
    response.writeHead(status, { "content-type": "application/json", ...headers }).end(JSON.stringify(body))
  }

  function refuse(
    asked: Asked,
    response: ServerResponse,
    status: number,
    code: number,
    headers: Record<string, string> = {},
  ): void {
    answer(
      asked,
      response,
      status,
      { code, message: `refused with ${code}`, more_info: `https://www.twilio.com/docs/errors/${code}`, status },
      headers,
    )
  }

  async function create(asked: Asked, response: ServerResponse): Promise<void> {
    const fault = faults.shift() ?? drawn()
    const form = asked.form as URLSearchParams
    if (carrier.knobs.lateMs > 0) await pause(draw() * carrier.knobs.lateMs)
    if (fault?.is === "late") await pause(fault.ms)
    if (fault?.is === "refuse") return refuse(asked, response, fault.status ?? 400, fault.code)
    if (fault?.is === "too-many")
      return refuse(
        asked,
        response,
        429,
        20429,
        fault.retryAfter === undefined ? {} : { "retry-after": fault.retryAfter },
      )
    const lost = fault && "taken" in fault && !fault.taken
    if (draw() < carrier.knobs.stopSilently) carrier.stopped.add(form.get("To") ?? "")
    const code = lost ? null : refusalOf(form, number, carrier.stopped)
    if (code !== null) return refuse(asked, response, 400, code)
    const booked = lost ? null : take(form)
    const first = fault?.is === "report-first" || draw() < carrier.knobs.reportFirst
    if (booked && first) await report()
    switch (fault?.is) {
      case "lost":
        return void response.destroy()
      case "hang":
        return
      case "broken":
        return refuse(asked, response, fault.status ?? 503, 20503)
      case "garbled":
        return void response.writeHead(200, { "content-type": "text/html" }).end("<html>proxy</html>")
      default:
        return answer(asked, response, 201, messageJson(account, booked as Booked, form.get("MessagingServiceSid")))
    }
  }

  function drawn(): Fault | undefined {
    const { lostBefore, lostAfter, tooMany, broken } = carrier.knobs
    const lot = draw()
    if (lot < lostBefore) return { is: "lost", taken: false }
    if (lot < lostBefore + lostAfter) return { is: "lost", taken: true }
    if (lot < lostBefore + lostAfter + tooMany) return { is: "too-many" }
    if (lot < lostBefore + lostAfter + tooMany + broken) return { is: "broken", taken: false }
    return undefined
  }

  function take(form: URLSearchParams): Booked {
    const callback = form.get("StatusCallback")
    const booked: Booked = {
      sid: newId("SM"),
      direction: "outbound-api",
      to: form.get("To") as string,
      from: form.get("From") ?? number,
      body: form.get("Body") as string,
      madeAt: now(),
      sentAt: null,
      status: "queued",
      errorCode: null,
      key: callback === null ? null : new URL(callback).searchParams.get("key"),
      statusCallback: callback,
      validUntil: addMs(now(), Number(form.get("ValidityPeriod") ?? 36_000) * 1000),
      pictures: [],
      reported: [],
    }
    carrier.book.push(booked)
    plan(booked)
    return booked
  }

  /** What will be reported of a text, and when. */
  function plan(booked: Booked): void {
    const heldUntil = draw() < carrier.knobs.held ? addMs(booked.madeAt, SIX_HOURS_MS) : booked.madeAt
    if (heldUntil > (booked.validUntil as Instant)) {
      waiting.push({ at: booked.validUntil as Instant, booked, status: "failed", code: 30036 })
      return
    }
    const fate = carrier.fates.get(booked.to) ?? { status: "delivered" as const }
    if (fate.status !== "failed") waiting.push({ at: heldUntil, booked, status: "sent", code: null })
    if (fate.status !== "sent") waiting.push({ at: heldUntil, booked, status: fate.status, code: fate.code ?? null })
  }

  /** Posts every report whose time has come by the carrier's clock (all of them with `all`), and waits for the answers. */
  async function report(all = false): Promise<void> {
    const due = waiting.filter((each) => all || each.at <= now())
    for (const each of due) waiting.splice(waiting.indexOf(each), 1)
    for (const { at, booked, status, code } of due) {
      booked.sentAt ??= at
      if (!ENDS.has(booked.status)) booked.status = status
      booked.errorCode = code ?? booked.errorCode
    }
    if (draw() < carrier.knobs.reportShuffled) due.reverse()
    for (const { booked, status, code } of due) {
      if (booked.statusCallback === null || draw() < carrier.knobs.reportNever) continue
      booked.reported.push(status)
      const form = reportForm(account, booked, status, code)
      await post(booked.statusCallback, form)
      if (draw() < carrier.knobs.reportTwice) await post(booked.statusCallback, form)
    }
  }

  function list(asked: Asked, response: ServerResponse): void {
    if (draw() < carrier.knobs.listFails) return refuse(asked, response, 503, 20503)
    const seen = carrier.book.filter(
      (each) => each.madeAt <= now() - carrier.knobs.listLagMs && listedBy(asked.query, each),
    )
    const newestFirst = seen.reverse().map((each) => messageJson(account, each, null))
    answer(asked, response, 200, pageOf(asked.path, asked.query, newestFirst, "messages"))
  }

  /** A person texts our number. The sid of their message, and what the bot answered to each webhook. */
  async function hears(heard: Heard): Promise<{ sid: string; statuses: (number | null)[] }> {
    const pictures: Picture[] = (heard.pictures ?? []).map((each) => ({ sid: newId("ME"), ...each }))
    const at = heard.at ?? now()
    const sid = heard.sid ?? newId(pictures.length > 0 ? "MM" : "SM")
    const to = heard.to ?? number
    heedStop(heard, carrier.stopped)
    const common = { sid, to, from: heard.from, body: heard.body, pictures }
    const rest = { madeAt: at, sentAt: at, status: "received", errorCode: null, key: null, statusCallback: null }
    carrier.book.push({ ...common, ...rest, direction: "inbound", validUntil: null, reported: [] })
    if (heard.post === false) return { sid, statuses: [] }
    const shown = pictures.map((each) => ({ url: mediaUrl(sid, each), type: each.type }))
    const form = inboundForm(account, { sid, to, from: heard.from, body: heard.body }, shown, heard.extra ?? {})
    const address = `${carrier.bot?.publicUrl.replace(/\/+$/, "")}/twilio/inbound`
    const statuses = [await post(address, form)]
    if (draw() < carrier.knobs.inboundTwice) statuses.push(await post(address, form))
    return { sid, statuses }
  }

  function mediaUrl(message: string, each: Picture): string {
    return `${carrier.url}/2010-04-01/Accounts/${account}/Messages/${message}/Media/${each.sid}`
  }

  function picture(response: ServerResponse, sid: string, withKey: boolean): void {
    const found = carrier.book.flatMap((each) => each.pictures).find((each) => each.sid === sid && !each.gone)
    if (withKey)
      carrier.asked.push({
        method: "GET",
        path: `/cdn/${sid}`,
        query: "",
        form: {},
        wrong: ["the key went to another host"],
      })
    if (!found) return void response.writeHead(404).end()
    response.writeHead(200, { "content-type": found.type, "content-length": found.bytes.length }).end(found.bytes)
  }

  async function post(address: string, form: Record<string, string>): Promise<number | null> {
    if (!carrier.bot) return null
    const call = postWebhook(carrier.bot, address, token, Object.entries(form))
    posting.add(call)
    const got = await call
    posting.delete(call)
    carrier.posted.push({ address, form, status: got?.status ?? null, text: got?.text ?? "" })
    return got?.status ?? null
  }
}

export type Carrier = Awaited<ReturnType<typeof openCarrier>>

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms))
}
