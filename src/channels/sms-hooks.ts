import { z } from "zod"
import type { Incoming, Media } from "../bot/needs.ts"
import type { Instant } from "../values/instant.ts"
import { codeName, meaningOf, refusedForGood } from "./sms-codes.ts"

/** A webhook as it came in. `address`: as the carrier sees it, with the query still encoded. */
export type Posted = { address: string; signature: string; contentType: string; body: string }

/** What the carrier says of a text of ours. */
export type StatusReport = {
  /** Our own key, from the address; null where the carrier was given none. */
  key: string | null
  sid: string
  status: string
  errorCode: string | null
  /** What follows from a failure; null while there is none. */
  verdict: StatusVerdict | null
}

/** `hold`: nothing more to that number; `again`: the same text may go once more; `ownFault`: the owner must act. */
export type StatusVerdict = {
  code: string
  text: string
  hold: "held" | "stopped" | null
  again: boolean
  ownFault: boolean
}

/** `forged`: not from the carrier, or changed on the way; `nothing`: from the carrier, but nothing we know. */
export type Read<What> = What | "forged" | "nothing"

export type SmsHooks = {
  readInbound(posted: Posted, now: Instant): Promise<Read<Incoming>>
  readStatus(posted: Posted): Promise<Read<StatusReport>>
}

type Params = Record<string, string | string[]>

/** As many as a message can hold. */
const MOST_MEDIA = 10

const sid = z.string().regex(/^[A-Z]{2}[0-9a-fA-F]{32}$/)
const inbound = z.object({
  MessageSid: sid,
  From: z.string().min(1).max(100),
  To: z.string().max(100).catch(""),
  Body: z.string().catch(""),
  NumMedia: z.coerce.number().int().min(0).max(MOST_MEDIA).catch(0),
  OptOutType: z.enum(["STOP", "START", "HELP"]).optional().catch(undefined),
})
const status = z.object({
  MessageSid: sid,
  MessageStatus: z.string().min(1).max(40),
  ErrorCode: z
    .string()
    .regex(/^\d{1,6}$/)
    .optional()
    .catch(undefined),
})

/**
 * Reads the carrier's webhooks: the signature first, over everything that came and to the letter, then the shape. `tokens`
 * are the account's auth tokens that sign; more than one around a change of token.
 */
export function smsHooks({ tokens }: { tokens: readonly [string, ...string[]] }): SmsHooks {
  return {
    async readInbound(posted, now) {
      const params = await trusted(posted, tokens)
      if (params === null) return "forged"
      const read = inbound.safeParse({ ...params, MessageSid: params.MessageSid ?? params.SmsSid })
      return read.success ? incomingOf(read.data, params, now) : "nothing"
    },
    async readStatus(posted) {
      const params = await trusted(posted, tokens)
      if (params === null) return "forged"
      const read = status.safeParse({
        ...params,
        MessageSid: params.MessageSid ?? params.SmsSid,
        MessageStatus: params.MessageStatus ?? params.SmsStatus,
      })
      return read.success ? reportOf(read.data, posted.address) : "nothing"
    },
  }
}

function incomingOf(read: z.infer<typeof inbound>, params: Params, now: Instant): Incoming {
  const media: Media[] = []
  for (let i = 0; i < read.NumMedia; i += 1) {
    const url = params[`MediaUrl${i}`]
    const type = params[`MediaContentType${i}`]
    if (typeof url === "string") media.push({ url, type: typeof type === "string" ? type : "" })
  }
  return {
    id: read.MessageSid,
    via: "sms",
    from: read.From,
    to: read.To,
    text: read.Body,
    at: now,
    media,
    ...(read.OptOutType ? { extra: { optOut: read.OptOutType } } : {}),
  }
}

function reportOf(read: z.infer<typeof status>, address: string): StatusReport {
  const errorCode = read.ErrorCode === undefined || read.ErrorCode === "0" ? null : read.ErrorCode
  const failed = read.MessageStatus === "failed" || read.MessageStatus === "undelivered"
  return {
    key: new URL(address).searchParams.get("key"),
    sid: read.MessageSid,
    status: read.MessageStatus,
    errorCode,
    verdict: failed ? verdictOf(errorCode) : null,
  }
}

/** A failure that gives no reason may pass, as the carrier's own "unknown" does. */
const NO_REASON = 30008

/** A text that was taken and then came to nothing. */
function verdictOf(errorCode: string | null): StatusVerdict {
  const code = errorCode === null ? NO_REASON : Number(errorCode)
  const meaning = meaningOf(code, 200)
  const name = codeName(meaning, code, 200)
  return {
    code: name,
    text: meaning.text,
    hold: refusedForGood(meaning, name)?.hold ?? null,
    again: meaning.kind === "passing" || meaning.kind === "cap" || meaning.kind === "own",
    ownFault: meaning.kind === "own",
  }
}

/** The parameters of a webhook whose signature is right; null for any other. */
async function trusted(posted: Posted, tokens: readonly string[]): Promise<Params | null> {
  // Only this part of the library: the whole of it costs 33 MB.
  const webhooks = await import("twilio/lib/webhooks/webhooks.js")
  const { address, signature, body } = posted
  if (signature === "" || !URL.canParse(address)) return null
  const isForm = /^application\/x-www-form-urlencoded\b/i.test(posted.contentType) || body === ""
  const params = isForm ? formOf(body) : {}
  const hashed = address.includes("bodySHA256")
  for (const token of tokens) {
    if (isForm && webhooks.validateRequest(token, signature, address, params)) return params
    if (hashed && webhooks.validateRequestWithBody(token, signature, address, body)) return params
  }
  return null
}

/** A posted form: each key once, with all its values where it came several times. Nothing is trimmed: blanks are signed too. */
function formOf(body: string): Params {
  const params: Params = Object.create(null)
  for (const [key, value] of new URLSearchParams(body)) {
    const before = params[key]
    params[key] = before === undefined ? value : Array.isArray(before) ? [...before, value] : [before, value]
  }
  return params
}
