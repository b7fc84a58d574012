import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { openLedger } from "../../src/channels/sms-ledger.ts"
import { LIST_LAG_MS, smsChannel } from "../../src/channels/sms-twilio.ts"
import { addMs, instant } from "../../src/values/instant.ts"
import { aCarrier, aText, INES, START } from "./sms-given.ts"

type Given = Awaited<ReturnType<typeof aCarrier>>
let given: Given
beforeEach(async () => {
  given = await aCarrier()
})
afterEach(() => given.carrier.close())

const MINUTE = 60_000
const DAY = 86_400_000
const JPEG = new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 0, 16])

describe("was it taken? (D1)", () => {
  it("yes where the list has it, with the carrier's id", async () => {
    given.carrier.next({ is: "lost", taken: true })
    await given.channel.send(aText(), START)
    expect(await given.again().wasTaken(aText())).toEqual({ taken: true, carrierId: given.carrier.taken[0]?.sid })
  })

  it("no only some time after the try, since the list lags", async () => {
    given.carrier.next({ is: "lost", taken: false })
    await given.channel.send(aText(), START)
    given.later(LIST_LAG_MS - 1)
    expect(await given.channel.wasTaken(aText())).toBeNull()
    given.later(1)
    expect(await given.channel.wasTaken(aText())).toEqual({ taken: false, carrierId: null })
  })

  it("cut off in the call nobody knows when it ended, so the first look never says no", async () => {
    await openLedger(given.options.notes ?? null).begin(aText().key, START)
    given.later(DAY)
    expect(await given.again().wasTaken(aText())).toBeNull()
    given.later(LIST_LAG_MS)
    expect(await given.again().wasTaken(aText())).toEqual({ taken: false, carrierId: null })
  })

  it("cut off before the call it was certainly not; after the answer it certainly was: nobody is asked", async () => {
    expect(await given.again().wasTaken(aText())).toEqual({ taken: false, carrierId: null })
    await given.channel.send(aText(), START)
    const count = given.carrier.asked.length
    expect(await given.again().wasTaken(aText())).toEqual({ taken: true, carrierId: given.carrier.taken[0]?.sid })
    expect(given.carrier.asked).toHaveLength(count)
  })

  it("where nothing could be written down, the list alone decides, and only after a while", async () => {
    const options = { ...given.options }
    delete options.notes
    given.carrier.next({ is: "lost", taken: true })
    await smsChannel(options).send(aText(), START)
    expect(await smsChannel(options).wasTaken(aText())).toMatchObject({ taken: true })
    const other = aText({ key: "other", text: "2 Other" })
    const fresh = smsChannel(options)
    expect(await fresh.wasTaken(other)).toBeNull()
    given.later(LIST_LAG_MS)
    expect(await fresh.wasTaken(other)).toEqual({ taken: false, carrierId: null })
  })

  it("a list that lags a minute behind leads to no second text", async () => {
    given.carrier.knobs.listLagMs = MINUTE
    given.carrier.next({ is: "lost", taken: true })
    await given.channel.send(aText(), START)
    expect(await given.again().wasTaken(aText())).toBeNull()
    given.later(LIST_LAG_MS)
    expect(await given.again().wasTaken(aText())).toMatchObject({ taken: true })
  })

  it("cannot be told while the list cannot be read", async () => {
    given.carrier.next({ is: "lost", taken: true })
    await given.channel.send(aText(), START)
    given.carrier.knobs.listFails = 1
    given.later(DAY)
    expect(await given.channel.wasTaken(aText())).toBeNull()
  })

  it("yes without asking where a delivery report with our key has come", async () => {
    expect(await given.channel.wasTaken(aText({ fate: "sent" }))).toEqual({ taken: true, carrierId: null })
    expect(given.carrier.asked).toEqual([])
  })

  it("other words, another phone, and an older text of the same words are other texts", async () => {
    await given.channel.send(aText({ key: "older" }), START)
    given.later(10 * MINUTE)
    await given.channel.send(aText({ key: "words", text: "2 Other words" }), given.clock.now)
    await given.channel.send(aText({ key: "phone", to: "+17175550143" }), given.clock.now)
    const message = aText({ key: "this", notBefore: given.clock.now })
    given.carrier.next({ is: "lost", taken: false })
    await given.channel.send(message, given.clock.now)
    given.later(LIST_LAG_MS)
    expect(await given.again().wasTaken(message)).toEqual({ taken: false, carrierId: null })
  })

  it("the same words in the same second under two keys are two texts", async () => {
    await given.channel.send(aText({ key: "a" }), START)
    given.carrier.next({ is: "lost", taken: false })
    await given.channel.send(aText({ key: "b" }), START)
    given.later(LIST_LAG_MS)
    expect(await given.channel.wasTaken(aText({ key: "b" }))).toEqual({ taken: false, carrierId: null })
  })

  it("two texts of the same words that both got no answer: one of them taken is not both", async () => {
    given.carrier.next({ is: "lost", taken: true }, { is: "lost", taken: false })
    await given.channel.send(aText({ key: "a" }), START)
    await given.channel.send(aText({ key: "b" }), START)
    given.later(LIST_LAG_MS)
    expect(await given.channel.wasTaken(aText({ key: "a" }))).toMatchObject({ taken: true })
    expect(await given.channel.wasTaken(aText({ key: "b" }))).toEqual({ taken: false, carrierId: null })
  })

  it("two in doubt in the same second, and a report that names one of them: each is told right, whoever asks first", async () => {
    given.carrier.next({ is: "lost", taken: false }, { is: "lost", taken: true })
    await given.channel.send(aText({ key: "a" }), START)
    await given.channel.send(aText({ key: "b" }), START)
    await given.channel.confirm("b", given.carrier.taken[0]?.sid as string)
    given.later(LIST_LAG_MS)
    // After a restart nobody knows how long ago the try was: the clock may have been set since.
    expect(await given.again().wasTaken(aText({ key: "a" }))).toBeNull()
    given.later(LIST_LAG_MS)
    expect(await given.again().wasTaken(aText({ key: "a" }))).toEqual({ taken: false, carrierId: null })
    expect(await given.again().wasTaken(aText({ key: "b" }))).toMatchObject({ taken: true })
  })

  it("holds where the carrier's clock is hours off ours", async () => {
    const skewed = await aCarrier({ carrier: { now: () => addMs(given.clock.now, -3 * 60 * MINUTE) } })
    const ours = { now: () => given.clock.now }
    skewed.carrier.next({ is: "lost", taken: true })
    await skewed.again(ours).send(aText(), START)
    expect(await skewed.again(ours).wasTaken(aText())).toMatchObject({ taken: true })
    await skewed.carrier.close()
  })

  it.each([-2 * 60, 20, 23 * 60])(
    "holds where our clock was %i minutes off when we tried, and is right when we ask",
    async (minutes) => {
      const tried = addMs(START, minutes * MINUTE)
      given.carrier.next({ is: "lost", taken: true })
      await given.again({ now: () => tried }).send(aText({ goodUntil: addMs(tried, 60 * MINUTE) }), tried)
      given.later(LIST_LAG_MS)
      expect(await given.again().wasTaken(aText())).toMatchObject({ taken: true })
    },
  )

  it("a clock that was set on two hours since the try is no proof that the list has caught up", async () => {
    given.carrier.knobs.listLagMs = 60_000
    const behind = given.again({ now: () => addMs(given.clock.now, -120 * MINUTE) })
    await behind.send(aText({ key: "before", text: "other words" }), addMs(START, -120 * MINUTE))
    given.carrier.next({ is: "lost", taken: true })
    await behind.send(aText(), addMs(START, -120 * MINUTE))
    given.later(10_000)
    expect(await given.again().wasTaken(aText())).toBeNull()
    given.later(LIST_LAG_MS)
    expect(await given.again().wasTaken(aText())).toMatchObject({ taken: true })
  })

  it("of the same words at two times tells which is whose, whatever the clock did", async () => {
    await given.channel.send(aText({ key: "before" }), START)
    given.later(30 * MINUTE)
    given.carrier.next({ is: "lost", taken: false })
    await given.channel.send(aText({ key: "lost" }), given.clock.now)
    given.later(30 * MINUTE)
    await given.channel.send(aText({ key: "after" }), given.clock.now)
    given.later(LIST_LAG_MS)
    expect(await given.again().wasTaken(aText({ key: "lost" }))).toEqual({ taken: false, carrierId: null })
  })

  it.each(["", "{", "null", '{"key":"another form"}', "fractions of a millisecond"])(
    "a note of the try that cannot be read (%j) is no proof that there was none: the list is asked",
    async (words) => {
      const notes = new Map<string, string>()
      const kept = {
        recall: async (name: string) => notes.get(name) ?? null,
        remember: async (name: string, value: string) => void notes.set(name, value),
      }
      given.carrier.next({ is: "lost", taken: true })
      await given.again({ notes: kept }).send(aText(), START)
      for (const [name, value] of notes)
        notes.set(name, words.startsWith("fractions") ? value.replace(/"began":\d+/, "$&.5") : words)
      expect(await given.again({ notes: kept }).wasTaken(aText())).toMatchObject({ taken: true })
    },
  )

  it("is found behind a page of newer texts to the same phone", async () => {
    given.carrier.next({ is: "lost", taken: true })
    await given.channel.send(aText({ key: "first" }), START)
    for (let i = 0; i < 120; i += 1) await given.channel.send(aText({ key: `k${i}`, text: `other ${i}` }), START)
    expect(await given.again().wasTaken(aText({ key: "first" }))).toMatchObject({ taken: true })
  })
})

describe("what people texted while we were away (D22)", () => {
  it("comes from the list: all of it, oldest first, dated when it was sent, nothing of ours", async () => {
    const texts = ["done 1", "cut south", "", "bloom", "why", "snooze 2", "señor 🌱 — ½"]
    for (const body of texts) {
      await given.carrier.hears({ from: INES, body, post: false })
      given.later(5 * 60 * MINUTE)
    }
    await given.channel.send(aText(), given.clock.now)
    given.later(2 * DAY)
    const read = await given.channel.readInboundList(START)
    expect(read.map((each) => each.text)).toEqual(texts)
    expect(read.map((each) => each.at)).toEqual(texts.map((_, i) => addMs(START, i * 5 * 60 * MINUTE)))
    expect(read.every((each) => each.from === INES && each.via === "sms" && each.to === given.carrier.number)).toBe(
      true,
    )
    expect(new Set(read.map((each) => each.id)).size).toBe(texts.length)
  })

  it("has the ids that the webhooks have, so that nothing counts twice", async () => {
    const { sid } = await given.carrier.hears({ from: INES, body: "done 1", post: false })
    expect((await given.channel.readInboundList(START))[0]?.id).toBe(sid)
  })

  it("has the pictures of each text, at the carrier's address", async () => {
    const pictures = [
      { type: "image/jpeg", bytes: JPEG },
      { type: "image/png", bytes: JPEG },
    ]
    const { sid } = await given.carrier.hears({ from: INES, body: "look", pictures, post: false })
    const [read] = await given.channel.readInboundList(START)
    expect(read?.media.map((each) => each.type)).toEqual(["image/jpeg", "image/png"])
    for (const each of read?.media ?? [])
      expect(each.url).toMatch(new RegExp(`^${given.carrier.url}/.*/${sid}/Media/ME[0-9a-f]{32}$`))
  })

  it("leaves out what is older", async () => {
    await given.carrier.hears({ from: INES, body: "old", at: instant("2026-05-13T11:59:58Z"), post: false })
    await given.carrier.hears({ from: INES, body: "new", at: START, post: false })
    expect((await given.channel.readInboundList(START)).map((each) => each.text)).toEqual(["new"])
  })

  it("goes on over many pages", async () => {
    for (let i = 0; i < 250; i += 1) await given.carrier.hears({ from: INES, body: `text ${i}`, post: false })
    expect(await given.channel.readInboundList(START)).toHaveLength(250)
  })

  it("is an error where the list cannot be read, so that nothing is taken for nothing", async () => {
    given.carrier.knobs.listFails = 1
    await expect(given.channel.readInboundList(START)).rejects.toThrow(/503/)
  })
})

describe("one text of a person at the carrier (X3)", () => {
  it("has the moment it was sent", async () => {
    const { sid } = await given.carrier.hears({ from: INES, body: "done 1", post: false })
    given.later(2 * DAY)
    expect(await given.channel.readOneInbound(sid)).toEqual({ sentAt: START })
  })

  it("is unknown where the carrier has none of that id, or one of ours", async () => {
    await given.channel.send(aText(), START)
    expect(await given.channel.readOneInbound(`SM${"0".repeat(32)}`)).toBe("unknown")
    expect(await given.channel.readOneInbound(given.carrier.taken[0]?.sid as string)).toBe("unknown")
  })

  it("is null where the carrier cannot be asked", async () => {
    const { sid } = await given.carrier.hears({ from: INES, body: "done 1", post: false })
    expect(await given.again({ authToken: "wrong" }).readOneInbound(sid)).toBeNull()
  })
})
