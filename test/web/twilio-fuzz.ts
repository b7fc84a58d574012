/** Webhooks of every kind of wrongness, each from a seed: signed and not, whole and broken, huge, empty, of any type. */
import { drawer } from "../stand-ins/carrier-book.ts"
import { aPost, aReport, FORM, type Pairs, PUBLIC_URL, request, sidOf, TOKEN } from "./twilio-given.ts"

const TYPES = [
  FORM,
  `${FORM}; charset=UTF-8`,
  "application/json",
  "text/plain",
  "multipart/form-data; boundary=x",
  "multipart/form-data",
  "",
  "application/x-www-form-urlencoded;;;",
  "x".repeat(500),
]
const PATHS = [
  "/twilio/inbound",
  "/twilio/status?key=k1",
  "/twilio/status",
  "/twilio/inbound?bodySHA256=",
  "/twilio/inbound?%00",
  "/twilio/status?key=%ff%fe",
  "/twilio/inbound?a=%E0%A4%A",
]
const KEYS = [
  "MessageSid",
  "SmsSid",
  "From",
  "To",
  "Body",
  "NumMedia",
  "MediaUrl0",
  "MessageStatus",
  "ErrorCode",
  "OptOutType",
  "__proto__",
  "constructor",
  "toString",
  "",
  "\u0000",
  "ключ",
]
const VALUES = [
  "",
  "0",
  "-1",
  "1e99",
  "NaN",
  "SM",
  "STOP",
  "\u0000",
  "\ud800",
  "\u202e",
  "%",
  "%zz",
  "=1+1",
  "<script>",
  "' or 1=1",
  "../../etc/passwd",
  "http://169.254.169.254/",
  "🌱",
  "x".repeat(2000),
]

export type Fuzzed = { path: string; init: RequestInit }

export function fuzzer(seed: number): () => Fuzzed {
  const draw = drawer(seed)
  const pick = <One>(all: readonly One[]) => all[Math.floor(draw() * all.length)] as One
  const noise = (most: number) =>
    Array.from({ length: Math.floor(draw() * most) }, () => String.fromCharCode(Math.floor(draw() * 0x3000))).join("")
  const oneForm = (): Pairs => {
    const form = draw() < 0.5 ? aPost({ MessageSid: sidOf(Math.floor(draw() * 50)) }) : aReport()
    for (let i = 0; i < draw() * 6; i += 1) form.push([pick(KEYS), draw() < 0.5 ? pick(VALUES) : noise(40)])
    return draw() < 0.3 ? form.filter(() => draw() < 0.7) : form
  }
  return () => {
    const path = pick(PATHS)
    const form = oneForm()
    const good = request(path, form, { token: draw() < 0.5 ? TOKEN : "another", signed: PUBLIC_URL + path })
    const headers = { ...(good.headers as Record<string, string>) }
    if (draw() < 0.3) headers["content-type"] = pick(TYPES)
    if (draw() < 0.1) headers["x-twilio-signature"] = pick(["", "=", "AAAA", "x".repeat(9000)])
    if (draw() < 0.05) headers["content-encoding"] = pick(["gzip", "identity", "br", "x"])
    let body = good.body as string
    if (draw() < 0.2) body = body.slice(0, Math.floor(draw() * body.length))
    if (draw() < 0.2) body += pick(["&", "=", "&&&==", "%", "%zz", "&a", "\u0000", '{"a":1}', "x".repeat(70_000)])
    if (draw() < 0.1) body = noise(300)
    return { path, init: { method: "POST", headers, body } }
  }
}
