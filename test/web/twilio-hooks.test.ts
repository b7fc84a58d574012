import { request as plainRequest } from "node:http"
import { gzipSync } from "node:zlib"
import { describe, expect, it } from "vitest"
import { addMs, instant } from "../../src/values/instant.ts"
import type { Web } from "../../src/web/server.ts"
import { openCarrier } from "../stand-ins/carrier.ts"
import { aPost, aReport, FORM, NOW, PUBLIC_URL, request, sidOf, TOKEN, webhooks } from "./twilio-given.ts"

const IN = "/twilio/inbound"
const NOTHING = '<?xml version="1.0" encoding="UTF-8"?><Response/>'
const DAY = 86_400_000

describe("a text of a person", () => {
  it("is kept, answered at once with no words of ours, and worked on afterwards", async () => {
    const { app, inbox, counts } = webhooks()
    const answer = await app.request(IN, request(IN, aPost()))
    expect([answer.status, answer.headers.get("content-type"), await answer.text()]).toEqual([
      200,
      "text/xml; charset=utf-8",
      NOTHING,
    ])
    expect(inbox).toMatchObject([{ id: `SM${"a1".repeat(16)}`, via: "sms", text: "done 1", from: "+17175550142" }])
    await new Promise((resolve) => setImmediate(resolve))
    expect(counts.woken).toBe(1)
  })

  it("is answered before any work on it is done, however long that takes (D10)", async () => {
    const order: string[] = []
    const { app } = webhooks({
      keep: async () => {
        order.push("kept")
        return "new"
      },
      wake: () => void order.push("work"),
    })
    await app.request(IN, request(IN, aPost()))
    order.push("answered")
    await new Promise((resolve) => setImmediate(resolve))
    expect(order).toEqual(["kept", "answered", "work"])
  })

  it("that comes again changes nothing again (D8)", async () => {
    const { app, inbox, state } = webhooks()
    await app.request(IN, request(IN, aPost()))
    await new Promise((resolve) => setImmediate(resolve))
    const before = state()
    for (let i = 0; i < 1000; i += 1) expect((await app.request(IN, request(IN, aPost()))).status).toBe(200)
    await new Promise((resolve) => setImmediate(resolve))
    expect(state()).toBe(before)
    expect(inbox).toHaveLength(1)
  })

  it("fifty times at once is one (D9)", async () => {
    const { start, inbox, counts } = webhooks()
    const web = await start()
    const answers = await Promise.all(Array.from({ length: 50 }, () => fetch(web.url + IN, request(IN, aPost()))))
    expect(answers.map((each) => each.status)).toEqual(answers.map(() => 200))
    await web.close()
    expect([inbox.length, counts.woken]).toEqual([1, 1])
  })

  it("that cannot be kept is answered 503, so that nobody takes it for kept", async () => {
    const { app, errors, counts } = webhooks({
      keep: async () => {
        throw new Error("the disk is full")
      },
    })
    const answer = await app.request(IN, request(IN, aPost()))
    expect([answer.status, answer.headers.get("retry-after")]).toEqual([503, "60"])
    expect(errors).toHaveLength(1)
    expect(counts.woken).toBe(0)
  })

  it("signed, but nothing we know, is taken without a word and changes nothing", async () => {
    const { app, state, refusals } = webhooks()
    const before = state()
    for (const form of [[], aPost({ MessageSid: "nonsense" }), aPost({ From: "" })] as never[])
      expect((await app.request(IN, request(IN, form))).status).toBe(200)
    expect(state()).toBe(before)
    expect(refusals).toEqual(["nothing", "nothing", "nothing"])
  })
})

describe("whatever is not the carrier's (X1)", () => {
  it("is answered 403 without a word, and changes nothing but a counter", async () => {
    const { app, state, refusals } = webhooks()
    const before = state()
    const good = request(IN, aPost())
    const bad: RequestInit[] = [
      { ...good, headers: { "content-type": FORM } },
      request(IN, aPost(), { token: "another" }),
      request(IN, aPost(), { signed: `${PUBLIC_URL}/twilio/status` }),
      request(IN, aPost(), { signed: `http://bot.example.org${IN}` }),
      { ...good, body: new URLSearchParams(aPost({ Body: "done 2" })).toString() },
      { ...good, body: `${good.body}&Extra=1` },
      { ...good, headers: { ...good.headers, "content-type": "application/json" } },
    ]
    for (const each of bad) {
      for (const path of [IN, "/twilio/status?key=k1"]) {
        const answer = await app.request(path, each)
        expect([answer.status, await answer.text()]).toEqual([403, ""])
      }
    }
    expect(state()).toBe(before)
    expect(refusals).toEqual(Array.from({ length: 2 * bad.length }, () => "forged"))
  })

  it("GET and HEAD change nothing and find nothing", async () => {
    const { app, state } = webhooks()
    const before = state()
    for (const method of ["GET", "HEAD", "PUT", "DELETE"])
      expect(
        (
          await app.request(IN, {
            ...request(IN, aPost()),
            method,
            ...(method === "GET" || method === "HEAD" ? { body: null } : {}),
          })
        ).status,
      ).toBe(404)
    expect(state()).toBe(before)
  })

  it("an account with another kind of signature is refused, and told apart", async () => {
    const { app, refusals } = webhooks()
    const headers = { "x-twilio-webhooks-signature-settings": "key=1,algorithm=HMAC_SHA256", "x-twilio-signature": "x" }
    expect((await app.request(IN, request(IN, aPost(), { headers }))).status).toBe(403)
    expect(refusals).toEqual(["other-signature"])
  })

  it("leaves no word of what it said in the operator's log, believed or not", async () => {
    const { app, visits } = webhooks()
    for (const token of ["another", TOKEN])
      await app.request(`${IN}?secret=query`, request(`${IN}?secret=query`, aPost({ Body: "secret words" }), { token }))
    expect(visits).toHaveLength(2)
    expect(JSON.stringify(visits)).not.toMatch(/secret|17175550142/)
  })
})

describe("the address that was signed (X2)", () => {
  /** Public address, what the request line says, whether it is right. */
  const matrix: [publicUrl: string, signed: string, line: string, good: boolean][] = [
    ["https://bot.example.org", `https://bot.example.org${IN}`, IN, true],
    ["https://bot.example.org/", `https://bot.example.org${IN}`, IN, true],
    ["https://bot.example.org", `https://bot.example.org:443${IN}`, IN, true],
    ["http://bot.example.org", `http://bot.example.org${IN}`, IN, true],
    ["http://bot.example.org", `http://bot.example.org:80${IN}`, IN, true],
    ["https://bot.example.org:8443", `https://bot.example.org:8443${IN}`, IN, true],
    ["https://bot.example.org/garden", `https://bot.example.org/garden${IN}`, IN, true],
    [
      "https://bot.example.org",
      `https://bot.example.org${IN}?garden=long%20acre&k=%2Fa%27b`,
      `${IN}?garden=long%20acre&k=%2Fa%27b`,
      true,
    ],
    ["https://bot.example.org", `https://bot.example.org${IN}?x=a'b(c)`, `${IN}?x=a'b(c)`, true],
    ["https://bot.example.org", `https://bot.example.org${IN}`, `http://127.0.0.1:8080${IN}`, true],
    ["https://bot.example.org", `http://bot.example.org${IN}`, IN, false],
    ["http://bot.example.org", `https://bot.example.org${IN}`, IN, false],
    ["https://bot.example.org:8443", `https://bot.example.org:9443${IN}`, IN, false],
    ["https://bot.example.org", `https://other.example.org${IN}`, IN, false],
    ["https://bot.example.org/garden", `https://bot.example.org${IN}`, IN, false],
    ["https://bot.example.org", `https://bot.example.org${IN}?a=1&b=2`, `${IN}?b=2&a=1`, false],
    ["https://bot.example.org", `http://127.0.0.1:8080${IN}`, IN, false],
  ]

  it.each(matrix)("PUBLIC_URL %s, signed %s, asked for %s: %s", async (publicUrl, signed, line, good) => {
    const { start, inbox } = webhooks({ publicUrl })
    const web = await start()
    expect(await rawPost(web, line, request(IN, aPost(), { signed }))).toBe(good ? 200 : 403)
    expect(inbox).toHaveLength(good ? 1 : 0)
    await web.close()
  })

  it("is PUBLIC_URL's alone: what a proxy or a stranger says of host and scheme is not believed", async () => {
    const { start, inbox } = webhooks()
    const web = await start()
    const lies = {
      host: "evil.example",
      "x-forwarded-host": "evil.example",
      "x-forwarded-proto": "http",
      "x-original-url": "/evil",
      forwarded: "host=evil.example;proto=http",
    }
    expect(await rawPost(web, IN, request(IN, aPost(), { headers: lies }))).toBe(200)
    expect(
      await rawPost(
        web,
        IN,
        request(IN, aPost({ MessageSid: sidOf(2) }), { signed: `http://evil.example${IN}`, headers: lies }),
      ),
    ).toBe(403)
    await web.close()
    expect(inbox).toHaveLength(1)
  })
})

describe("bodies (X15)", () => {
  it("of up to 64 KiB are taken; one byte more is 413", async () => {
    const { app, inbox } = webhooks()
    const filled = (size: number) => {
      const empty = new URLSearchParams(aPost({ MessageSid: sidOf(size), Body: "" })).toString().length
      return aPost({ MessageSid: sidOf(size), Body: "x".repeat(size - empty) })
    }
    expect((await app.request(IN, request(IN, filled(65_536)))).status).toBe(200)
    expect((await app.request(IN, request(IN, filled(65_537)))).status).toBe(413)
    expect(inbox).toHaveLength(1)
  })

  it("that say nothing of their length are cut off at the same size", async () => {
    const { start, inbox } = webhooks()
    const web = await start()
    const endless = new ReadableStream({
      pull: (controller) => controller.enqueue(new TextEncoder().encode("x".repeat(16_384))),
    })
    const answer = await fetch(web.url + IN, {
      ...request(IN, aPost()),
      body: endless,
      duplex: "half",
    } as RequestInit).then(
      (each) => each.status,
      () => 413,
    )
    expect(answer).toBe(413)
    await web.close()
    expect(inbox).toEqual([])
  })

  it("that are packed are not unpacked", async () => {
    const { app, inbox } = webhooks()
    const plain = request(IN, aPost(), { headers: { "content-encoding": "gzip" } })
    expect((await app.request(IN, { ...plain, body: gzipSync(plain.body as string) })).status).toBe(415)
    expect(inbox).toEqual([])
  })
})

describe("a copied webhook that is played again (X3)", () => {
  const asked: string[] = []
  const whenSent = async (sid: string) => {
    asked.push(sid)
    if (sid === sidOf(404)) return "unknown" as const
    return sid === sidOf(500) ? null : { sentAt: addMs(NOW, -3 * DAY) }
  }

  it("and that the inbox has forgotten is dated when the carrier took it, not now", async () => {
    const { app, inbox } = webhooks({ whenSent })
    await app.request(IN, request(IN, aPost({ MessageSid: sidOf(1) })))
    expect(inbox[0]?.at).toBe(instant("2026-05-10T12:00:00Z"))
  })

  it("and that the carrier never took is refused", async () => {
    const { app, inbox, refusals } = webhooks({ whenSent })
    expect((await app.request(IN, request(IN, aPost({ MessageSid: sidOf(404) })))).status).toBe(403)
    expect([inbox, refusals]).toEqual([[], ["replayed"]])
  })

  it("is kept as now where the carrier cannot be asked, or takes its time", async () => {
    const slow = webhooks({ whenSent: () => new Promise(() => {}) })
    expect((await slow.app.request(IN, request(IN, aPost()))).status).toBe(200)
    expect(slow.inbox[0]?.at).toBe(NOW)
    const gone = webhooks({ whenSent })
    await gone.app.request(IN, request(IN, aPost({ MessageSid: sidOf(500) })))
    expect(gone.inbox[0]?.at).toBe(NOW)
  })

  it("a thousand times asks the carrier once", async () => {
    asked.length = 0
    const { app, inbox } = webhooks({ whenSent })
    for (let i = 0; i < 1000; i += 1) await app.request(IN, request(IN, aPost({ MessageSid: sidOf(7) })))
    expect([asked.length, inbox.length]).toEqual([1, 1])
  })
})

describe("what the carrier reports", () => {
  const path = (key: string) => `/twilio/status?key=${encodeURIComponent(key)}`

  it("is taken down with our own key; each status of a text once (D13)", async () => {
    const { app, reports } = webhooks()
    for (const status of ["queued", "sent", "sent", "delivered"]) {
      const answer = await app.request(
        path("nudge:a#1"),
        request(path("nudge:a#1"), aReport({ MessageStatus: status })),
      )
      expect([answer.status, await answer.text()]).toEqual([200, NOTHING])
    }
    expect(reports.map((each) => [each.key, each.status])).toEqual([
      ["nudge:a#1", "queued"],
      ["nudge:a#1", "sent"],
      ["nudge:a#1", "delivered"],
    ])
  })

  it("with another's key is refused: the key is signed too", async () => {
    const { app, reports } = webhooks()
    const post = request(path("k1"), aReport())
    expect((await app.request(path("k2"), post)).status).toBe(403)
    expect(reports).toEqual([])
  })

  it("without a key is no text of ours", async () => {
    const { app, reports, refusals } = webhooks()
    expect((await app.request("/twilio/status", request("/twilio/status", aReport()))).status).toBe(200)
    expect([reports, refusals]).toEqual([[], ["no-key"]])
  })

  it("that cannot be kept is answered 503", async () => {
    const { app } = webhooks({
      noteStatus: async () => {
        throw new Error("the disk is full")
      },
    })
    expect((await app.request(path("k"), request(path("k"), aReport()))).status).toBe(503)
  })
})

describe("with the stand-in carrier", () => {
  it("texts come in signed, reports come back, one before the answer to its text (D12)", async () => {
    const { start, inbox, reports } = webhooks()
    const web = await start()
    const carrier = await openCarrier({ authToken: TOKEN })
    carrier.bot = { at: web.url, publicUrl: PUBLIC_URL }
    carrier.knobs.inboundTwice = 1
    expect((await carrier.hears({ from: "+17175550142", body: " señor 🌱\n" })).statuses).toEqual([200, 200])
    expect(inbox.map((each) => each.text)).toEqual([" señor 🌱\n"])
    carrier.next({ is: "report-first" })
    const { smsChannel } = await import("../../src/channels/sms-twilio.ts")
    const { aText } = await import("../channels/sms-given.ts")
    const text = aText({ goodUntil: addMs(NOW, DAY) })
    const channel = smsChannel({
      accountSid: carrier.account,
      authToken: carrier.token,
      from: carrier.number,
      apiUrl: carrier.url,
      publicUrl: PUBLIC_URL,
      wait: () => 1000,
      now: () => NOW,
    })
    expect(await channel.send(text, NOW)).toMatchObject({ is: "sent" })
    expect(reports.map((each) => [each.key, each.status])).toEqual([
      [text.key, "sent"],
      [text.key, "delivered"],
    ])
    expect(carrier.posted.every((each) => each.status === 200)).toBe(true)
    await carrier.close()
    await web.close()
  })
})

/** Posts with the request line to the letter, as no `fetch` would write it. */
function rawPost(web: Web, line: string, init: RequestInit): Promise<number> {
  return new Promise((resolve, reject) => {
    const asked = plainRequest(
      {
        host: "127.0.0.1",
        port: web.port,
        method: "POST",
        path: line,
        headers: init.headers as Record<string, string>,
        agent: false,
      },
      (answer) => {
        answer.resume()
        answer.once("end", () => resolve(answer.statusCode ?? 0))
      },
    )
    asked.once("error", reject)
    asked.end(init.body as string)
  })
}
