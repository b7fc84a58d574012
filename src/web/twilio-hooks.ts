import type { HttpBindings } from "@hono/node-server"
import type { Context, Hono } from "hono"
import type { Incoming } from "../bot/needs.ts"
import { type Instant, instantOf } from "../values/instant.ts"

/** A webhook as it came in. `address`: as the carrier sees it, with the query still encoded. */
export type Posted = { address: string; signature: string; contentType: string; body: string }

/** What the carrier says of a text of ours; `key` is our own, out of the address. `verdict`: what follows from a failure. */
export type Report = {
  key: string | null
  sid: string
  status: string
  errorCode: string | null
  verdict: { code: string; text: string; hold: "held" | "stopped" | null; again: boolean; ownFault: boolean } | null
}

/** `forged`: not from the carrier, or changed on the way; `nothing`: from the carrier, but nothing we know. */
export type Read<What> = What | "forged" | "nothing"

/** What the carrier's webhooks need of the bot and of the channel. `main.ts` hands it in; these routes decide nothing. */
export type TwilioNeeds = {
  /** The address that the carrier was told; it alone decides what was signed (failure X2). */
  publicUrl: string
  now(): Instant
  readInbound(posted: Posted, now: Instant): Promise<Read<Incoming>>
  readStatus(posted: Posted): Promise<Read<Report>>
  /** Keeps a message durably; `repeat` where its id is known. Throws where it cannot be kept. */
  keep(incoming: Incoming): Promise<"new" | "repeat">
  /** Takes down what became of a text of ours. Throws where that cannot be kept. */
  noteStatus(report: Report & { key: string }): Promise<void>
  /** Something new was kept: work on it, after the answer. */
  wake?(): void
  /**
   * Asks the carrier when it took a message: for messages that the inbox may have forgotten, as after a restore (failure X3).
   * `unknown`: the carrier has no such message; null: it cannot be asked now. Absent: nothing is asked.
   */
  whenSent?(sid: string): Promise<{ sentAt: Instant } | "unknown" | null>
  /** One webhook that was not taken, and why: for a counter. Nothing of what it said may be logged. */
  refused?(why: Refusal): void
  failed?(error: unknown): void
}

export type Refusal = "forged" | "other-signature" | "packed" | "too-large" | "nothing" | "no-key" | "replayed"

/** As much as a message needs, many times over. */
const MOST_BYTES = 64 * 1024
/** The carrier waits 15 s in all (its error 11205); ours is to be a tenth of that, the store's work included. */
const ASK_AT_MOST_MS = 700
const MOST_REMEMBERED = 5_000
/** No words of ours: whatever stands in a plain answer would be texted to the person. */
const NO_REPLY = '<?xml version="1.0" encoding="UTF-8"?><Response/>'

type App = Hono<{ Bindings: HttpBindings }>

/**
 * `POST /twilio/inbound` and `POST /twilio/status`. A wrong signature is answered 403 and changes nothing. A right one is
 * kept first and answered at once; whatever follows happens afterwards (failure D10). Where it cannot be kept the answer is
 * 503, and the hourly look into the carrier's list brings the message later.
 */
export function twilioHooks(needs: TwilioNeeds): (app: App) => void {
  const base = needs.publicUrl.replace(/\/+$/, "")
  /** Messages that came lately: nobody is asked about them again. */
  const lately = new Set<string>()
  return (app) => {
    app.post("/twilio/inbound", async (c) => {
      const posted = await postedOf(c, base)
      if (typeof posted === "string") return refuse(c, needs, posted)
      const incoming = await needs.readInbound(posted, needs.now())
      if (incoming === "forged") return refuse(c, needs, forgery(c))
      if (incoming === "nothing") return pass(c, needs, "nothing")
      const dated = lately.has(incoming.id) ? incoming : await datedBy(incoming, needs)
      if (dated === "replayed") return refuse(c, needs, "replayed")
      try {
        const kept = await needs.keep(dated)
        lately.add(incoming.id)
        if (lately.size > MOST_REMEMBERED) lately.delete(lately.values().next().value as string)
        if (kept === "new") afterwards(needs)
      } catch (error) {
        return notKept(c, needs, error)
      }
      return answer(c)
    })
    app.post("/twilio/status", async (c) => {
      const posted = await postedOf(c, base)
      if (typeof posted === "string") return refuse(c, needs, posted)
      const report = await needs.readStatus(posted)
      if (report === "forged") return refuse(c, needs, forgery(c))
      if (report === "nothing") return pass(c, needs, "nothing")
      const { key } = report
      if (key === null) return pass(c, needs, "no-key")
      try {
        await needs.noteStatus({ ...report, key })
      } catch (error) {
        return notKept(c, needs, error)
      }
      return answer(c)
    })
  }
}

/** What was posted, or why it is not looked at. */
async function postedOf(c: Context, base: string): Promise<Posted | Refusal> {
  // A packed body would be small on the way and huge here (failure X15); the carrier never packs.
  if ((c.req.header("content-encoding") ?? "identity").toLowerCase() !== "identity") return "packed"
  const body = await c.req.text()
  if (Buffer.byteLength(body) > MOST_BYTES) return "too-large"
  return {
    address: base + rawPath(c),
    signature: c.req.header("x-twilio-signature") ?? "",
    contentType: c.req.header("content-type") ?? "",
    body,
  }
}

/** Path and query to the letter, as they stood in the request line: signed is what the carrier wrote, not what it means. */
function rawPath(c: Context): string {
  const line = (c.env as Partial<HttpBindings> | undefined)?.incoming?.url
  const whole = line ?? c.req.url
  // A proxy may write the whole address into the request line; its host is not believed.
  return whole.replace(/^[a-z][a-z0-9+.-]*:\/\/[^/?#]*/i, "") || "/"
}

/** An account with Webhook Rules signs in a way that the carrier's own library of today does not know: the owner must hear of it. */
function forgery(c: Context): Refusal {
  return c.req.header("x-twilio-webhooks-signature-settings") === undefined ? "forged" : "other-signature"
}

/** Dates a message by the carrier's own list where it can be asked quickly; one that the carrier never took is a forgery. */
async function datedBy(incoming: Incoming, needs: TwilioNeeds): Promise<Incoming | "replayed"> {
  if (!needs.whenSent) return incoming
  const late = new Promise<null>((resolve) => setTimeout(resolve, ASK_AT_MOST_MS, null).unref())
  const sent = await Promise.race([needs.whenSent(incoming.id).catch(() => null), late])
  if (sent === null) return incoming
  if (sent === "unknown") return "replayed"
  // A clock of ours that is behind dates nothing into the future.
  return { ...incoming, at: instantOf(Math.min(sent.sentAt, incoming.at)) }
}

function afterwards(needs: TwilioNeeds): void {
  setImmediate(() => {
    try {
      needs.wake?.()
    } catch (error) {
      needs.failed?.(error)
    }
  })
}

function answer(c: Context) {
  return c.body(NO_REPLY, 200, { "content-type": "text/xml; charset=utf-8" })
}

/** Signed, and of no use to us: said to be fine, so that the carrier does not try again. */
function pass(c: Context, needs: TwilioNeeds, why: Refusal) {
  needs.refused?.(why)
  return answer(c)
}

function refuse(c: Context, needs: TwilioNeeds, why: Refusal) {
  needs.refused?.(why)
  return c.body(null, why === "packed" ? 415 : why === "too-large" ? 413 : 403)
}

function notKept(c: Context, needs: TwilioNeeds, error: unknown) {
  needs.failed?.(error)
  return c.body(null, 503, { "retry-after": "60" })
}
