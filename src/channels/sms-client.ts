import { z } from "zod"
import { MINUTE_MS } from "../values/instant.ts"

/** How long the carrier may take to answer; the lease on a message being sent is far longer (failure D6). */
export const CARRIER_TIMEOUT_MS = 20_000

/** No wait that the carrier asks for is taken for longer than a day. */
const MOST_RETRY_AFTER_MS = 24 * 60 * MINUTE_MS

/** Where the carrier's programming interface lives when no stand-in is named. */
export const CARRIER_API = "https://api.twilio.com"

/** The carrier answered, and it was no. */
export class CarrierRefusal extends Error {
  readonly status: number
  readonly code: number | null
  readonly retryAfterMs: number | null

  constructor(status: number, code: number | null, retryAfterMs: number | null) {
    // The carrier's own sentence may repeat the number that was texted: it is left out.
    super(`the carrier answered ${status}${code === null ? "" : ` (${code})`}`)
    this.name = "CarrierRefusal"
    this.status = status
    this.code = code
    this.retryAfterMs = retryAfterMs
  }
}

/** No answer came. `reached`: the request may have got there, so it is not known what became of it. */
export class CarrierSilent extends Error {
  readonly code: string
  readonly reached: boolean

  constructor(code: string, reached: boolean) {
    super(reached ? `no answer from the carrier (${code})` : `the carrier could not be reached (${code})`)
    this.name = "CarrierSilent"
    this.code = code
    this.reached = reached
  }
}

const NO_SUCH_ACCOUNT = 20404

/** Failures that happen before a single byte of the request can have left. */
const BEFORE_SENDING = new Set([
  "ECONNREFUSED",
  "ENOTFOUND",
  "EAI_AGAIN",
  "EAI_FAIL",
  "EHOSTUNREACH",
  "EHOSTDOWN",
  "ENETUNREACH",
  "ENETDOWN",
  "EADDRNOTAVAIL",
  "ERR_INVALID_URL",
  "ERR_MODULE_NOT_FOUND",
  "CERT_HAS_EXPIRED",
  "CERT_NOT_YET_VALID",
  "DEPTH_ZERO_SELF_SIGNED_CERT",
  "SELF_SIGNED_CERT_IN_CHAIN",
  "UNABLE_TO_GET_ISSUER_CERT",
  "UNABLE_TO_GET_ISSUER_CERT_LOCALLY",
  "UNABLE_TO_VERIFY_LEAF_SIGNATURE",
  "ERR_TLS_CERT_ALTNAME_INVALID",
])

/** What a failed request says of itself; the library hands it through as the system gave it. */
const failure = z.object({
  code: z.string().optional().catch(undefined),
  syscall: z.string().optional().catch(undefined),
  cause: z.object({ code: z.string().optional(), syscall: z.string().optional() }).optional().catch(undefined),
})

/** Was the request certainly not sent? Only then may it be sent again without asking. */
export function silenceOf(error: unknown): CarrierSilent {
  const said = failure.safeParse(error)
  const { code, syscall, cause } = said.success ? said.data : {}
  const name = cause?.code ?? code ?? "no-code"
  const connecting = (cause?.syscall ?? syscall) === "connect"
  return new CarrierSilent(name, !(BEFORE_SENDING.has(name) || connecting))
}

const errorBody = z.object({ code: z.number().int().nullable().catch(null) })

/** Reads the body of a refusal, which may be JSON, text of JSON, or a proxy's page. */
function codeIn(body: unknown): number | null {
  let value = body
  if (typeof body === "string") {
    try {
      value = JSON.parse(body)
    } catch {
      return null
    }
  }
  const read = errorBody.safeParse(value)
  return read.success ? read.data.code : null
}

/** `Retry-After` in milliseconds, from seconds or from a date against the answer's own `Date`; null where there is none (RFC 9110 10.2.3). */
export function retryAfterMs(header: unknown, date: unknown): number | null {
  if (typeof header !== "string") return null
  const seconds = /^\s*\d+\s*$/.test(header)
    ? Number(header)
    : typeof date === "string"
      ? (Date.parse(header) - Date.parse(date)) / 1000
      : Number.NaN
  return seconds >= 0 ? Math.min(seconds * 1000, MOST_RETRY_AFTER_MS) : null
}

export type CarrierAccount = {
  accountSid: string
  authToken: string
  /** A stand-in's address; null: the carrier itself. */
  apiUrl: string | null
  timeoutMs?: number
}

type TwilioModule = typeof import("twilio")
export type CarrierClient = ReturnType<TwilioModule>

/** An answer's header that tells the carrier's time; kept beside each list that is read. */
export type Answered = { date: string | null }

/** The carrier's library, loaded at the first call: it costs a tenth of a second and some 30 MB that a garden without texts never pays. */
export function carrierClient(account: CarrierAccount): (answered?: Answered) => Promise<CarrierClient> {
  let loaded: Promise<{ twilio: TwilioModule; http: InstanceType<TwilioModule["RequestClient"]> }> | null = null
  return async (answered) => {
    loaded ??= import("twilio").then(({ default: twilio }) => ({
      twilio,
      http: new twilio.RequestClient({ timeout: account.timeoutMs ?? CARRIER_TIMEOUT_MS, autoRetry: false }),
    }))
    const { twilio, http } = await loaded.catch((error) => {
      throw silenceOf(error)
    })
    const request: typeof http.request = async (options) => {
      const answer = await http
        .request({ ...options, uri: standInAddress(options.uri, account.apiUrl) })
        .catch((error) => {
          throw silenceOf(error)
        })
      const headers = answer.headers as Record<string, unknown> | undefined
      if (answered) answered.date = typeof headers?.date === "string" ? headers.date : null
      if (answer.statusCode >= 200 && answer.statusCode < 300) return answer
      throw new CarrierRefusal(
        answer.statusCode,
        codeIn(answer.body),
        retryAfterMs(headers?.["retry-after"], headers?.date),
      )
    }
    const httpClient = Object.assign(Object.create(http) as typeof http, { request })
    try {
      return twilio(account.accountSid, account.authToken, { httpClient, accountSid: account.accountSid })
    } catch {
      // The library refuses an account's id of the wrong shape before it asks anybody.
      throw new CarrierRefusal(404, NO_SUCH_ACCOUNT, null)
    }
  }
}

/** The same request at a stand-in: its scheme, host and port instead of the carrier's. */
export function standInAddress(uri: string, apiUrl: string | null): string {
  if (apiUrl === null) return uri
  const asked = new URL(uri)
  const base = new URL(apiUrl)
  return `${base.origin}${base.pathname.replace(/\/+$/, "")}${asked.pathname}${asked.search}`
}
