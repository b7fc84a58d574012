import { createServer } from "node:net"
import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { KNOWN_CODES, meaningOf } from "../../src/channels/sms-codes.ts"
import { LIST_LAG_MS, statusAddress } from "../../src/channels/sms-twilio.ts"
import { addMs, instant } from "../../src/values/instant.ts"
import { description } from "../stand-ins/openapi.ts"
import { aCarrier, aText, INES, PUBLIC_URL, START } from "./sms-given.ts"

type Given = Awaited<ReturnType<typeof aCarrier>>
let given: Given
beforeEach(async () => {
  given = await aCarrier()
})
afterEach(() => given.carrier.close())

const send = (known: Parameters<typeof aText>[0] = {}) => given.channel.send(aText(known), given.clock.now)
const MINUTE = 60_000
const HOUR = 60 * MINUTE

describe("a text that the carrier takes", () => {
  it("is sent with the carrier's id, word for word, from our number", async () => {
    const outcome = await send()
    const [booked] = given.carrier.taken
    expect(outcome).toEqual({ is: "sent", carrierId: booked?.sid })
    expect(booked).toMatchObject({ to: INES, from: given.carrier.number, body: aText().text })
  })

  it("asks for what the published description allows, and for nothing else", async (context) => {
    if (!description("twilio-messages-openapi.json"))
      context.skip("the carrier's description is not beside the checkout")
    given.carrier.next({ is: "lost", taken: true })
    await send()
    await given.channel.wasTaken(aText())
    await given.channel.readInboundList(START)
    await given.channel.readOneInbound(`SM${"0".repeat(32)}`)
    expect(given.carrier.asked.map((each) => each.method)).toEqual(["POST", "GET", "GET", "GET"])
    expect(given.carrier.violations).toEqual([])
  })

  it("carries our own key in the address for reports, so that a report is known before the answer (D12)", async () => {
    const key = "nudge:acre:inés & co:2026-05-13:text:a#1,b#2"
    await send({ key })
    expect(given.carrier.taken[0]?.key).toBe(key)
    expect(given.carrier.taken[0]?.statusCallback).toBe(statusAddress(PUBLIC_URL, key))
  })

  it("leaves the carrier's own replacing of letters switched off", async () => {
    await send()
    expect(given.carrier.asked[0]?.form.SmartEncoded).toBe("false")
  })

  it("may go through a messaging service, which then picks the sender", async () => {
    const service = `MG${"a".repeat(32)}`
    await given.again({ messagingServiceSid: service }).send(aText(), START)
    expect(given.carrier.asked[0]?.form).toMatchObject({ MessagingServiceSid: service })
    expect(given.carrier.asked[0]?.form).not.toHaveProperty("From")
  })

  it("names no address for reports where the carrier could not reach it", async () => {
    const live = given.again({ publicUrl: null })
    await live.send(aText(), START)
    expect(given.carrier.asked[0]?.form).not.toHaveProperty("StatusCallback")
  })
})

describe("the validity of a text (D20)", () => {
  it("is never longer than the time left to its last good moment, nor than the carrier takes", async () => {
    const left = [1_000, 59_999, 90 * MINUTE, 36_000_000, 20 * HOUR]
    for (const ms of left) await send({ goodUntil: addMs(START, ms), key: `k${ms}` })
    expect(given.carrier.asked.map((each) => Number(each.form.ValidityPeriod))).toEqual([1, 59, 5400, 36_000, 36_000])
  })

  it("a text with less than a second left is not sent", async () => {
    expect(await send({ goodUntil: addMs(START, 999) })).toMatchObject({ is: "dropped", code: "too-late" })
    expect(given.carrier.asked).toEqual([])
  })
})

describe("a refusal", () => {
  it.each([21211, 21612, 21614, 30005, 30006])("%i: the number is of no use, so the phone is held", async (code) => {
    given.carrier.next({ is: "refuse", code })
    expect(await send()).toMatchObject({ is: "failed", code: String(code), hold: "held" })
  })

  it("21610: the person told the carrier to stop, so the phone is stopped (P8)", async () => {
    given.carrier.stopped.add(INES)
    expect(await send()).toMatchObject({ is: "failed", code: "21610", hold: "stopped" })
  })

  it.each([21602, 21617, 30004, 30007, 21699, 63016])(
    "%i: that text is never tried again, the phone is fine",
    async (code) => {
      given.carrier.next({ is: "refuse", code })
      const outcome = await send()
      expect(outcome).toMatchObject({ is: "failed", code: String(code) })
      expect(outcome).not.toHaveProperty("hold")
    },
  )

  it.each([30001, 30003, 30008, 30017, 30022, 30036, 30999])("%i: may pass, so it goes again later", async (code) => {
    given.carrier.next({ is: "refuse", code })
    expect(await send({ attempts: 3 })).toMatchObject({
      is: "later",
      code: String(code),
      dueAt: addMs(START, 3 * MINUTE),
    })
  })

  it.each([
    [20003, 401],
    [21606, 400],
    [21608, 400],
    [30034, 400],
    [30532, 400],
  ])(
    "%i: our own fault, told apart by its name; nothing else is tried until it may be mended",
    async (code, status) => {
      given.carrier.next({ is: "refuse", code, status })
      const first = await send()
      expect(first).toMatchObject({ is: "later", code: `own-fault-${code}`, dueAt: addMs(START, 15 * MINUTE) })
      expect(given.channel.trouble()).toContain(`own-fault-${code}`)
      expect(await send({ key: "other" })).toMatchObject({ is: "later", code: `own-fault-${code}` })
      expect(given.carrier.asked).toHaveLength(1)
      given.later(15 * MINUTE)
      expect(await send({ key: "other" })).toMatchObject({ is: "sent" })
      expect(given.channel.trouble()).toBeNull()
    },
  )

  it("own faults are tried again ever more rarely, up to every six hours", async () => {
    const waits: number[] = []
    for (let i = 0; i < 4; i += 1) {
      given.carrier.next({ is: "refuse", code: 20003, status: 401 })
      const outcome = await send()
      if (outcome.is === "later") waits.push(outcome.dueAt - given.clock.now)
      given.later(waits.at(-1) ?? 0)
    }
    expect(waits).toEqual([15 * MINUTE, HOUR, 6 * HOUR, 6 * HOUR])
  })

  it("a wrong token is an own fault, seen on the real answer", async () => {
    const wrong = given.again({ authToken: "wrong" })
    expect(await wrong.send(aText(), START)).toMatchObject({ is: "later", code: "own-fault-20003" })
    expect(given.carrier.book).toEqual([])
  })

  it("an account's id of the wrong shape is an own fault, before anything is asked", async () => {
    const wrong = given.again({ accountSid: "nonsense" })
    expect(await wrong.send(aText(), START)).toMatchObject({ is: "later", code: "own-fault-20404" })
  })

  it("429 waits as long as the carrier asks, and so does every other text (O2)", async () => {
    given.carrier.next({ is: "too-many", retryAfter: "300" })
    expect(await send()).toMatchObject({ is: "later", code: "20429", dueAt: addMs(START, 5 * MINUTE) })
    expect(await send({ key: "other" })).toMatchObject({ is: "later", dueAt: addMs(START, 5 * MINUTE) })
    expect(given.carrier.asked).toHaveLength(1)
  })

  it("429 with a date, or with nothing, waits too", async () => {
    given.carrier.next({ is: "too-many", retryAfter: "Wed, 13 May 2026 12:10:00 GMT" })
    expect(await send()).toMatchObject({ is: "later", dueAt: addMs(START, 10 * MINUTE) })
    given.later(10 * MINUTE)
    given.carrier.next({ is: "too-many" })
    expect(await send({ attempts: 2 })).toMatchObject({ is: "later", dueAt: addMs(given.clock.now, 2 * MINUTE) })
  })

  it("never names the number or the words of the text", async () => {
    for (const code of KNOWN_CODES) {
      const { text } = meaningOf(code, 400)
      expect(text).not.toMatch(/\d{7}|\$\{/)
      expect(text.length).toBeGreaterThan(8)
    }
  })
})

describe("a try that cannot be written down", () => {
  it("is not made: nothing is sent unrecorded", async () => {
    const notes = { recall: async () => null, remember: () => Promise.reject(new Error("the disk is full")) }
    const outcome = await given.again({ notes }).send(aText(), START)
    expect(outcome).toMatchObject({ is: "later", code: "not-recorded", dueAt: addMs(START, MINUTE) })
    expect(given.carrier.asked).toEqual([])
  })
})

describe("no answer", () => {
  it("a connection that was refused: certainly not sent, so it goes again later", async () => {
    const { port } = await freePort()
    const gone = given.again({ apiUrl: `http://127.0.0.1:${port}` })
    expect(await gone.send(aText(), START)).toMatchObject({
      is: "later",
      code: "no-connection",
      dueAt: addMs(START, MINUTE),
    })
  })

  it("a name that does not resolve: certainly not sent", async () => {
    const gone = given.again({ apiUrl: "http://carrier.invalid" })
    expect(await gone.send(aText(), START)).toMatchObject({ is: "later", code: "no-connection" })
  })

  it.each([
    ["a time-out", { is: "hang", taken: true }],
    ["a connection that broke", { is: "lost", taken: true }],
    ["a gateway's 503", { is: "broken", taken: true }],
    ["an answer that nobody can read", { is: "garbled", taken: true }],
  ] as const)("%s: not known, so the carrier is asked before it goes again (D1)", async (_, fault) => {
    given.carrier.next(fault)
    const outcome = await send()
    expect(outcome.is).toBe("unknown")
    expect(outcome.is === "unknown" && outcome.dueAt - START).toBeGreaterThanOrEqual(LIST_LAG_MS)
    given.later(LIST_LAG_MS)
    expect(await given.channel.wasTaken(aText())).toEqual({ taken: true, carrierId: given.carrier.taken[0]?.sid })
  })

  it("a call that did not arrive settles nothing of one before it that may have: still to be asked about", async () => {
    given.carrier.next({ is: "lost", taken: true })
    expect(await send()).toMatchObject({ is: "unknown" })
    const { port } = await freePort()
    const gone = given.again({ apiUrl: `http://127.0.0.1:${port}` })
    expect(await gone.send(aText({ attempts: 2 }), START)).toMatchObject({ is: "unknown", code: "no-connection" })
    given.later(LIST_LAG_MS)
    expect(await given.again().wasTaken(aText())).toEqual({ taken: true, carrierId: given.carrier.taken[0]?.sid })
  })

  it("two in a row and the carrier counts as down: the others wait a minute without running into it (O1)", async () => {
    given.carrier.next({ is: "broken", taken: false }, { is: "broken", taken: false })
    await send({ key: "a" })
    await send({ key: "b" })
    expect(await send({ key: "c" })).toMatchObject({ is: "later", code: "carrier-down", dueAt: addMs(START, MINUTE) })
    expect(given.carrier.asked).toHaveLength(2)
    given.later(MINUTE)
    expect(await send({ key: "c" })).toMatchObject({ is: "sent" })
  })

  it("a clock that was set back does not make a pause longer", async () => {
    given.carrier.next({ is: "refuse", code: 20003, status: 401 })
    await send()
    given.clock.now = instant("2026-05-10T12:00:00Z")
    expect(await send({ goodUntil: instant("2026-05-10T20:00:00Z") })).toMatchObject({ is: "sent" })
  })
})

describe("numbers that may not be texted (X9, X10)", () => {
  it("are refused before anything is asked, and the phone is held", async () => {
    const fenced = given.again({ allowed: (to) => (to === INES ? { why: "because" } : "yes") })
    expect(await fenced.send(aText(), START)).toEqual({
      is: "failed",
      code: "number-not-allowed",
      text: "because",
      hold: "held",
    })
    expect(given.carrier.asked).toEqual([])
  })
})

/** A port on loopback where nobody listens. */
function freePort(): Promise<{ port: number }> {
  return new Promise((resolve) => {
    const server = createServer().listen(0, "127.0.0.1", () => {
      const { port } = server.address() as { port: number }
      server.close(() => resolve({ port }))
    })
  })
}
