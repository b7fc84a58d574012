import { createHash, createHmac } from "node:crypto"
import { existsSync, readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { type Posted, smsHooks } from "../../src/channels/sms-hooks.ts"
import { statusAddress } from "../../src/channels/sms-twilio.ts"
import { instant } from "../../src/values/instant.ts"
import { signatureOf } from "../stand-ins/carrier-webhooks.ts"

const TOKEN = "12345abcde67890fghij12345klmno00"
const NOW = instant("2026-05-13T12:00:00Z")
const INBOUND = "https://bot.example.org/twilio/inbound"
const STATUS = "https://bot.example.org/twilio/status?key=k%231"
const SID = `SM${"c3".repeat(16)}`
const FORM = "application/x-www-form-urlencoded; charset=UTF-8"
const hooks = smsHooks({ tokens: [TOKEN] })

type Pairs = [string, string][]
const BASIC: Pairs = [
  ["MessageSid", SID],
  ["AccountSid", `AC${"0b".repeat(16)}`],
  ["From", "+17175550142"],
  ["To", "+17175550100"],
  ["Body", "done 1"],
  ["NumMedia", "0"],
]

function posted(form: Pairs, address = INBOUND, over: Partial<Posted> = {}): Posted {
  return {
    address,
    signature: signatureOf(TOKEN, address, form),
    contentType: FORM,
    body: new URLSearchParams(form).toString(),
    ...over,
  }
}
const changed = (key: string, value: string): Pairs => BASIC.map(([k, v]) => [k, k === key ? value : v])

/** Vectors that the carrier's own library made, where the reference folder lies beside the checkout. */
const vectors = new URL("../../../shared/reference/webhook-vectors.json", import.meta.url)
type Vector = {
  id: string
  publicUrl: string
  token: string
  params?: Record<string, string | string[]>
  contentType?: string
  body?: string
  signature: string
  valid: boolean
}

describe.runIf(existsSync(vectors))("signatures that the carrier's own library made or refused", () => {
  const all = existsSync(vectors) ? (JSON.parse(readFileSync(vectors, "utf8")) as { vectors: Vector[] }).vectors : []

  it.each(all.map((vector) => [vector.id, vector] as const))("%s", async (_, vector) => {
    const form = Object.entries(vector.params ?? {}).flatMap(([key, value]) =>
      [value].flat().map((v): [string, string] => [key, v]),
    )
    const read = {
      address: vector.publicUrl,
      signature: vector.signature,
      contentType: vector.contentType ?? FORM,
      body: vector.body ?? new URLSearchParams(form).toString(),
    }
    const own = smsHooks({ tokens: [vector.token] })
    const { pathname } = new URL(vector.publicUrl)
    const got = pathname.startsWith("/twilio/status") ? await own.readStatus(read) : await own.readInbound(read, NOW)
    expect(got === "forged").toBe(!vector.valid)
  })
})

/** Twilio docs, "Webhook security", as tabled by whoever tried the library 6.2.0; token and numbers are made up. */
describe("signatures tabled in the carrier's way", () => {
  it.each([
    ["no port, signed without", INBOUND, "pejNDBaZ984yMSyyGtaAG+aSAyU=", true],
    ["no port, signed with :443", INBOUND, "MUcSqykDKMNyiVg0ch46Hki4AjE=", true],
    ["port 8443, signed on 9443", "https://bot.example.org:8443/twilio/inbound", "Tc3NCP/S889TIf0UiRqGXr8fZ3k=", false],
    ["a query still encoded", `${INBOUND}?garden=long%20acre&k=%2Fa%27b`, "nCq92RtELwmZmDOloqx8QvK5Wxc=", true],
    ["the same query decoded", `${INBOUND}?garden=long acre&k=/a'b`, "nCq92RtELwmZmDOloqx8QvK5Wxc=", false],
    ["as a proxy shows it", "http://127.0.0.1:8080/twilio/inbound", "pejNDBaZ984yMSyyGtaAG+aSAyU=", false],
  ])("%s", async (_, address, signature, good) => {
    const read = await hooks.readInbound(posted(BASIC, address, { signature }), NOW)
    expect(read !== "forged").toBe(good)
  })

  it("blanks at the ends are signed: trimmed, the signature is wrong; kept, the words are kept", async () => {
    const form = changed("Body", " done 1 \n")
    const signature = "VMtmcfjDT4mnX/pEJcKWjfYC1c8="
    expect(await hooks.readInbound(posted(form, INBOUND, { signature }), NOW)).toMatchObject({ text: " done 1 \n" })
    expect(await hooks.readInbound(posted(changed("Body", "done 1"), INBOUND, { signature }), NOW)).toBe("forged")
  })

  it("a plus in the words is decoded once", async () => {
    const form = changed("Body", "1+1 = 2 & 100%")
    const signature = "CeDluC60ahx0yFtFshWnNSD0H34="
    expect(await hooks.readInbound(posted(form, INBOUND, { signature }), NOW)).toMatchObject({ text: "1+1 = 2 & 100%" })
  })

  it("keys that come twice count in either order", async () => {
    const urls = ["https://api.example.org/b", "https://api.example.org/a"]
    for (const order of [urls, urls.toReversed()]) {
      const form: Pairs = [...BASIC, ...order.map((url): [string, string] => ["MediaUrl", url])]
      expect(
        await hooks.readInbound(posted(form, INBOUND, { signature: "j3aKOdZFczGP+w30ennJbeWqq0w=" }), NOW),
      ).not.toBe("forged")
    }
  })
})

describe("a hundred forgeries (X1)", () => {
  const forged: [string, Posted][] = []
  const good = posted(BASIC)
  for (let i = 0; i < good.signature.length; i += 1) {
    const letter = good.signature[i] === "A" ? "B" : "A"
    forged.push([
      `letter ${i} of the signature`,
      { ...good, signature: good.signature.slice(0, i) + letter + good.signature.slice(i + 1) },
    ])
  }
  for (const [key, value] of BASIC) {
    forged.push([`${key} changed`, { ...good, body: new URLSearchParams(changed(key, `${value}x`)).toString() }])
    forged.push([
      `${key} left out`,
      { ...good, body: new URLSearchParams(BASIC.filter(([k]) => k !== key)).toString() },
    ])
    forged.push([`${key} twice`, { ...good, body: new URLSearchParams([...BASIC, [key, "other"]]).toString() }])
  }
  for (const address of [
    "http://bot.example.org/twilio/inbound",
    `${INBOUND}/`,
    `${INBOUND}?`,
    `${INBOUND}?x=1`,
    "https://bot.example.com/twilio/inbound",
    "https://BOT.example.org/twilio/inboundx",
    "nonsense",
    "",
  ])
    forged.push([`address ${address}`, { ...good, address }])
  for (const signature of [
    "",
    "AAAA",
    good.signature.slice(0, -1),
    `${good.signature} `,
    good.signature.toLowerCase(),
    Buffer.from(good.signature, "base64").toString("hex"),
    "\u0000",
    "é".repeat(28),
  ])
    forged.push([`signature ${JSON.stringify(signature)}`, { ...good, signature }])
  for (const contentType of ["application/json", "text/plain", "multipart/form-data; boundary=x", ""])
    forged.push([`type ${contentType}`, { ...good, contentType }])
  for (let i = 0; i < 40; i += 1)
    forged.push([`another's token ${i}`, { ...good, signature: signatureOf(`${TOKEN}${i}`, INBOUND, BASIC) }])

  it(`${forged.length} of them, none believed`, async () => {
    expect(forged.length).toBeGreaterThanOrEqual(100)
    for (const [what, each] of forged) {
      expect(await hooks.readInbound(each, NOW), what).toBe("forged")
      expect(await hooks.readStatus(each), what).toBe("forged")
    }
  })
})

describe("JSON posts", () => {
  const body = '{"eventName":"x","text":"señor – ½"}'
  const hash = createHash("sha256").update(body, "utf8").digest("hex")
  const address = `${INBOUND}?bodySHA256=${hash}`
  const signature = createHmac("sha1", TOKEN).update(address).digest("base64")
  const json = { address, signature, contentType: "application/json", body }

  it("are signed by their address, which holds the hash of the body; they hold no text of a person", async () => {
    expect(await hooks.readInbound(json, NOW)).toBe("nothing")
  })

  it("are refused with a body that was changed, without the hash, or with another's", async () => {
    expect(await hooks.readInbound({ ...json, body: `${body} ` }, NOW)).toBe("forged")
    const bare = createHmac("sha1", TOKEN).update(INBOUND).digest("base64")
    expect(await hooks.readInbound({ ...json, address: INBOUND, signature: bare }, NOW)).toBe("forged")
    const other = `${INBOUND}?bodySHA256=${"0".repeat(64)}`
    const signed = createHmac("sha1", TOKEN).update(other).digest("base64")
    expect(await hooks.readInbound({ ...json, address: other, signature: signed }, NOW)).toBe("forged")
  })
})

describe("around a change of token", () => {
  it("both count, and no third", async () => {
    const both = smsHooks({ tokens: ["new-token", TOKEN] })
    expect(await both.readInbound(posted(BASIC), NOW)).not.toBe("forged")
    const fresh = { ...posted(BASIC), signature: signatureOf("new-token", INBOUND, BASIC) }
    expect(await both.readInbound(fresh, NOW)).not.toBe("forged")
    expect(await hooks.readInbound(fresh, NOW)).toBe("forged")
  })
})

describe("a text of a person", () => {
  it("is read as it came", async () => {
    expect(await hooks.readInbound(posted(BASIC), NOW)).toEqual({
      id: SID,
      via: "sms",
      from: "+17175550142",
      to: "+17175550100",
      text: "done 1",
      at: NOW,
      media: [],
    })
  })

  it("has its pictures, and may have no words", async () => {
    const form: Pairs = [
      ...BASIC.filter(([key]) => key !== "Body" && key !== "NumMedia"),
      ["Body", ""],
      ["NumMedia", "2"],
      ["MediaUrl0", "https://api.twilio.com/a"],
      ["MediaContentType0", "image/jpeg"],
      ["MediaUrl1", "https://api.twilio.com/b"],
      ["MediaUrl2", "https://api.twilio.com/not-counted"],
    ]
    expect(await hooks.readInbound(posted(form), NOW)).toMatchObject({
      text: "",
      media: [
        { url: "https://api.twilio.com/a", type: "image/jpeg" },
        { url: "https://api.twilio.com/b", type: "" },
      ],
    })
  })

  it("says where the carrier has answered a stop word itself", async () => {
    const form: Pairs = [...changed("Body", "STOP"), ["OptOutType", "STOP"]]
    expect(await hooks.readInbound(posted(form), NOW)).toMatchObject({ text: "STOP", extra: { optOut: "STOP" } })
  })

  it("keeps every letter: other scripts, emoji, line ends, controls", async () => {
    const text = "señor 🌱 — \u0000 мята\r\n\u202e\ttab ＝"
    expect(await hooks.readInbound(posted(changed("Body", text)), NOW)).toMatchObject({ text })
  })

  it("may carry keys that nobody knows yet, even dangerous ones (X20)", async () => {
    const form: Pairs = [...BASIC, ["__proto__", "x"], ["constructor", "y"], ["Brand.New", "z"]]
    expect(await hooks.readInbound(posted(form), NOW)).toMatchObject({ text: "done 1" })
    expect(({} as Record<string, unknown>).x).toBeUndefined()
  })

  it("signed, but without an id or a sender, is nothing", async () => {
    expect(await hooks.readInbound(posted([]), NOW)).toBe("nothing")
    expect(await hooks.readInbound(posted(BASIC.filter(([key]) => key !== "From")), NOW)).toBe("nothing")
    expect(await hooks.readInbound(posted(changed("MessageSid", "../../etc/passwd")), NOW)).toBe("nothing")
  })
})

describe("what the carrier reports of a text", () => {
  const report = (status: string, more: Pairs = [], address = STATUS) =>
    hooks.readStatus(posted([["MessageSid", SID], ["MessageStatus", status], ...more], address))

  it("names our own key, from the address", async () => {
    expect(await report("delivered")).toEqual({
      key: "k#1",
      sid: SID,
      status: "delivered",
      errorCode: null,
      verdict: null,
    })
    const key = "nudge:acre:inés & co:2026-05-13:text:a#1,b#2+3%"
    expect(await report("sent", [], statusAddress("https://bot.example.org", key))).toMatchObject({ key })
    expect(await report("sent", [], "https://bot.example.org/twilio/status")).toMatchObject({ key: null })
  })

  it.each([
    ["30006", { hold: "held", again: false, ownFault: false }],
    ["30005", { hold: "held", again: false, ownFault: false }],
    ["21610", { hold: "stopped", again: false, ownFault: false }],
    ["30003", { hold: null, again: true, ownFault: false }],
    ["30036", { hold: null, again: true, ownFault: false }],
    ["30007", { hold: null, again: false, ownFault: false }],
    ["30034", { hold: null, again: true, ownFault: true }],
    ["39999", { hold: null, again: false, ownFault: false }],
  ])("undelivered with %s says what follows", async (code, verdict) => {
    expect(await report("undelivered", [["ErrorCode", code]])).toMatchObject({ errorCode: code, verdict })
  })

  it("a failure without a code may pass", async () => {
    expect(await report("failed")).toMatchObject({ errorCode: null, verdict: { hold: null, again: true } })
  })
})
