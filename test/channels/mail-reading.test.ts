import { describe, expect, it } from "vitest"
import { bouncesOf } from "../../src/channels/mail-bounce.ts"
import { keyedAddress, messageIdOf } from "../../src/channels/mail-keys.ts"
import { parseMail } from "../../src/channels/mail-mime.ts"
import { tailsWith, withoutKnownTail, withoutOurWords } from "../../src/channels/mail-own-words.ts"
import { type ReadingNeeds, readIncoming } from "../../src/channels/mail-reading.ts"
import { replyOf } from "../../src/channels/reply-of.ts"
import { addMs } from "../../src/values/instant.ts"
import { at } from "../given.ts"
import { aMail, FROM, SECRETS } from "./mail-message.ts"
import { eml } from "./reply-of-samples.ts"

const ARRIVED = at("2026-05-09 09:45")
const KEY = aMail().key
const OUR_ID = messageIdOf(KEY, FROM, SECRETS)

const needs: ReadingNeeds = {
  from: FROM,
  secrets: SECRETS,
  peopleAt: (address) => ({ "ines@example.org": ["acre/ines"], "theo@example.org": ["acre/theo"] })[address] ?? [],
  recipientOf: async (key) => (key === KEY ? "Ines@Example.org" : null),
}

function letter(
  known: { from?: string[]; head?: string[]; body?: string; date?: string; id?: string | null } = {},
): Buffer {
  const head = [
    ...(known.from ?? ["Ines <ines@example.org>"]).map((each) => `From: ${each}`),
    "To: Ryebell <bot@garden.example.net>",
    "Subject: =?utf-8?q?Re=3A_Sch=C3=B6n?=",
    `Date: ${known.date ?? "Sat, 09 May 2026 09:41:10 -0400 (EDT)"}`,
    ...(known.id === null ? [] : [`Message-ID: ${known.id ?? "<r1@example.org>"}`]),
    ...(known.head ?? []),
  ]
  return eml({ head, body: known.body ?? "done 1\n" })
}

async function incoming(mail: Buffer) {
  const reading = await readIncoming(mail, ARRIVED, needs)
  if (reading.is !== "reply") throw new Error(`read as ${reading.is}`)
  return reading
}

describe("who wrote a mail (failure M13)", () => {
  const cases: [string, Buffer, string][] = [
    ["answers a mail that went to that address", letter({ head: [`In-Reply-To: ${OUR_ID}`] }), "thread"],
    ["names it further up the thread", letter({ head: [`References: ${OUR_ID} <later@example.org>`] }), "thread"],
    [
      "came to the address that she alone was told",
      letter({ head: [`Delivered-To: ${keyedAddress(FROM, "acre/ines", SECRETS)}`] }),
      "address",
    ],
    [
      "names a mail of ours without our signature",
      letter({ head: [`In-Reply-To: ${messageIdOf(KEY, FROM)}`] }),
      "none",
    ],
    [
      "names a mail of ours signed by somebody else",
      letter({ head: [`In-Reply-To: ${messageIdOf(KEY, FROM, ["another secret here"])}`] }),
      "none",
    ],
    [
      "names a mail that went to somebody else",
      letter({ from: ["Theo <theo@example.org>"], head: [`In-Reply-To: ${OUR_ID}`] }),
      "none",
    ],
    [
      "names a mail that nobody was sent",
      letter({ head: [`In-Reply-To: ${messageIdOf("nudge:acre:ines:1999", FROM, SECRETS)}`] }),
      "none",
    ],
    [
      "came to the address that somebody else was told",
      letter({
        from: ["Theo <theo@example.org>"],
        head: [`Delivered-To: ${keyedAddress(FROM, "acre/ines", SECRETS)}`],
      }),
      "none",
    ],
    [
      "says two senders",
      letter({ from: ["Ines <ines@example.org>", "Theo <theo@example.org>"], head: [`In-Reply-To: ${OUR_ID}`] }),
      "none",
    ],
    ["says it in its words only", letter({ body: `done 1 In-Reply-To: ${OUR_ID}\n` }), "none"],
    ["has nothing to show", letter(), "none"],
  ]
  it.each(cases)("%s", async (_name, mail, proof) => {
    expect((await incoming(mail)).proof).toBe(proof)
  })

  it("takes the sender from the address, never from the name before it", async () => {
    const { incoming: mail } = await incoming(
      letter({ from: ['"ines@example.org" <mallory@example.com>'], head: [`In-Reply-To: ${OUR_ID}`] }),
    )
    expect(mail.from).toBe("mallory@example.com")
    expect(mail.extra?.proof).toBe("none")
  })
})

describe("what the bot is given", () => {
  it("holds words, thread, subject and the moment it was written", async () => {
    const { incoming: mail } = await incoming(
      letter({ head: [`In-Reply-To: ${OUR_ID}`, `References: <a@x> ${OUR_ID}`] }),
    )
    expect(mail).toEqual({
      id: expect.stringMatching(/^mail:[0-9a-f]{32}$/),
      via: "email",
      from: "ines@example.org",
      to: "bot@garden.example.net",
      text: "done 1",
      at: at("2026-05-09 09:41") + 10_000,
      media: [],
      extra: {
        proof: "thread",
        key: KEY,
        subject: "Re: Schön",
        messageId: "<r1@example.org>",
        references: `<a@x> ${OUR_ID} <r1@example.org>`,
      },
    })
  })

  it("has an id of its own, the same for every copy, with and without a Message-ID", async () => {
    const id = async (mail: Buffer) => (await incoming(mail)).incoming.id
    expect(await id(letter({ head: ["X-Copy: 2"] }))).toBe(await id(letter()))
    expect(await id(letter({ id: "<r2@example.org>" }))).not.toBe(await id(letter()))
    expect(await id(letter({ from: ["Theo <theo@example.org>"] }))).not.toBe(await id(letter()))
    expect(await id(letter({ id: null }))).toBe(await id(letter({ id: null, head: ["X-Copy: 2"] })))
    expect(await id(letter({ id: null, body: "up\n" }))).not.toBe(await id(letter({ id: null })))
  })

  it.each([
    ["yesterday", ARRIVED],
    ["Sat, 09 May 2099 09:41:10 -0400", ARRIVED],
    ["Thu, 01 Jan 1970 00:00:00 +0000", ARRIVED],
    ["Wed, 06 May 2026 09:45:00 -0400", addMs(ARRIVED, -3 * 24 * 3_600_000)],
  ])("believes a date only where it can be: %s", async (date, written) => {
    expect((await incoming(letter({ date }))).incoming.at).toBe(written)
  })

  it("is nothing at all for machines, our own copies and mails without words", async () => {
    const is = async (mail: Buffer) => (await readIncoming(mail, ARRIVED, needs)).is
    expect(await is(letter({ head: ["Auto-Submitted: auto-replied"] }))).toBe("auto")
    expect(await is(letter({ from: [FROM] }))).toBe("ours")
    expect(await is(letter({ from: ["bot+x@garden.example.net"] }))).toBe("ours")
    expect(await is(letter({ id: OUR_ID }))).toBe("ours")
    expect(await is(letter({ body: "\n-- \nInes\n" }))).toBe("empty")
    expect(await is(Buffer.alloc(0))).toBe("empty")
  })
})

describe("a mail that is nothing but a subject", () => {
  const mail = (subject: string, head: string[] = []) =>
    eml({
      head: ["From: ines@example.org", "To: bot@garden.example.net", `Subject: ${subject}`, ...head],
      body: "\n\nSent from my iPhone\n",
    })

  it.each(["stop", "Stop", "unsubscribe", "STOP."])(
    "says stop, as mail programs do to end a subscription: %s",
    async (subject) => {
      expect((await incoming(mail(subject))).incoming.text).toBe(subject)
    },
  )
  it.each([
    ["done 1", []],
    ["Re: Cut South bed", []],
    ["stop", [`In-Reply-To: ${OUR_ID}`]],
  ])("is not read otherwise, nor in an answer (failure M8): %s", async (subject, head) => {
    expect((await readIncoming(mail(subject, head), ARRIVED, needs)).is).toBe("empty")
  })
})

describe("reports of mail systems (RFC 3464)", () => {
  const report = (fields: string, more: { head?: string[]; returned?: string; per?: string } = {}) =>
    eml({
      head: [
        "From: MAILER-DAEMON@mx.example.org",
        "To: bot@garden.example.net",
        "Subject: Undelivered",
        "MIME-Version: 1.0",
        ...(more.head ?? []),
      ],
      type: 'multipart/report; report-type=delivery-status; boundary="r"',
      body: `--r\nContent-Type: text/plain\n\nSorry.\n--r\nContent-Type: message/delivery-status\n\nReporting-MTA: dns; mx\n${more.per ?? ""}\n${fields}\n--r\nContent-Type: ${more.returned ?? `text/rfc822-headers\n\nMessage-ID: ${OUR_ID}\nSubject: Cut`}\n--r--\n`,
    })
  const read = (mail: Buffer) => bouncesOf(parseMail(mail), FROM, SECRETS)

  it.each([
    ["Action: failed\nStatus: 5.1.1", true],
    ["Action: failed\nStatus: 5.2.2", true],
    ["Action: failed\nStatus: 5.7.1", true],
    ["Action: Failed\nStatus: 5.0.0 (permanent)", true],
    ["Action: failed", true],
    ["Action: failed\nStatus: 4.4.7", false],
    ["Action: delayed\nStatus: 4.4.1\nWill-Retry-Until: Wed, 13 May 2026 09:00:00 -0400", false],
    ["Action: delayed\nStatus: 5.0.0", false],
    ["ACTION: FAILED\nSTATUS: 5.1.10", true],
  ])("%j is permanent: %s", (fields, permanent) => {
    const mail = report(`Final-Recipient: rfc822; ines@example.org\n${fields}`)
    expect(replyOf(mail)).toMatchObject({ bounce: true, reply: "" })
    expect(read(mail)).toMatchObject([{ address: "ines@example.org", key: KEY, permanent }])
  })

  it.each(["Action: delivered\nStatus: 2.0.0", "Action: relayed\nStatus: 2.1.9", "Action: expanded\nStatus: 2.0.0"])(
    "%j went well: nothing follows",
    (fields) => {
      const mail = report(`Final-Recipient: rfc822; ines@example.org\n${fields}`)
      expect(replyOf(mail)).toMatchObject({ bounce: true })
      expect(read(mail)).toEqual([])
    },
  )

  it("tells several recipients apart, and prefers the address that was written to", () => {
    const mail = report(
      "Final-Recipient: rfc822; <a@example.org>\nAction: failed\nStatus: 5.1.1\n\nOriginal-Recipient: rfc822;ines@example.org\nFinal-Recipient: rfc822; i.okafor@inner.example.org\nAction: failed\nStatus: 5.1.1\n\nFinal-Recipient: rfc822; c@example.org\nAction: delivered\nStatus: 2.0.0",
    )
    expect(read(mail).map((each) => each.address)).toEqual(["a@example.org", "ines@example.org"])
  })

  const fields = "Final-Recipient: rfc822; ines@example.org\nAction: failed\nStatus: 5.1.1"
  it.each([
    [
      "the mail that came back",
      report(fields, { returned: `message/rfc822\n\nFrom: x\nMessage-ID: ${OUR_ID}\n\nwords` }),
      KEY,
    ],
    [
      "the envelope id that we gave",
      report(fields, { returned: "text/plain\n\n-", per: `Original-Envelope-Id: ${OUR_ID.slice(1, -1)}\n` }),
      KEY,
    ],
    ["the thread", report(fields, { returned: "text/plain\n\n-", head: [`In-Reply-To: ${OUR_ID}`] }), KEY],
    ["nothing", report(fields, { returned: "text/plain\n\n-" }), null],
    [
      "a Message-ID that is not signed",
      report(fields, { returned: `message/rfc822\n\nMessage-ID: ${messageIdOf(KEY, FROM)}\n\nwords` }),
      null,
    ],
  ])("find our mail by %s", (_name, mail, key) => {
    expect(read(mail)).toMatchObject([{ key }])
  })

  it.each([
    [
      "I could not deliver your message to the address below.\n\n<ines@example.org>: host mx.example.org said: 550 5.1.1 user unknown",
      true,
      "5.1.1",
    ],
    [
      "Hi. This is the mail program at mx.\n<ines@example.org>:\nSorry, no mailbox here by that name. (#5.1.1)",
      true,
      "5.1.1",
    ],
    ["Delivery to ines@example.org failed: 552 mailbox full for now", true, ""],
    ["Warning: ines@example.org: 451 4.4.1 still trying", false, "4.4.1"],
  ])("in plain words: %j", (words, permanent, status) => {
    const mail = eml({
      head: [
        "Return-Path: <>",
        "From: MAILER-DAEMON@mx.example.org",
        "To: bot@garden.example.net",
        "Subject: failure notice",
      ],
      body: `${words}\n\n--- Below is a copy ---\n\nMessage-ID: ${OUR_ID}\n\ndone 1\n`,
    })
    expect(replyOf(mail)).toMatchObject({ bounce: true, reply: "" })
    expect(read(mail)).toMatchObject([{ address: "ines@example.org", key: KEY, permanent, status }])
  })
})

describe("automatic mails are never replies (failures M1, M3)", () => {
  const isAuto = (head: string[], subject = "Re: Cut South bed") =>
    replyOf(
      eml({
        head: ["From: Ines <ines@example.org>", "To: bot@garden.example.net", `Subject: ${subject}`, ...head],
        body: "done 1\n",
      }),
    ).auto

  it.each([
    "Auto-Submitted: auto-replied",
    "Auto-Submitted: auto-generated",
    "Auto-Submitted: auto-notified; owner-email=x@example.org",
    "auto-submitted:Auto-Replied",
    "Precedence: bulk",
    "Precedence: Junk",
    "Precedence: list",
    "Precedence: auto_reply",
    "X-Autoreply: yes",
    "X-Autorespond: On holiday",
    "X-Autoresponder: 1",
    "X-Vacation: x",
    "List-Id: <beds.example.org>",
    "Return-Path: <>",
  ])("%s", (line) => {
    expect(isAuto([line])).toBe(true)
  })

  it.each([
    "Automatic reply: Cut South bed",
    "Out of Office: Cut South bed",
    "Out of the office Re: beds",
    "Abwesenheitsnotiz: Cut",
    "Automatische Antwort: Cut",
    "Réponse automatique : Cut",
    "Respuesta automática: Cut",
    "Risposta automatica: Cut",
    "Automatisch antwoord: Cut",
    "Resposta automática: Cut",
    "Autosvar: Cut",
    "Automatiskt svar: Cut",
    "Automatisk svar: Cut",
    "Odpowiedź automatyczna: Cut",
  ])("subject: %s", (subject) => {
    expect(isAuto([], subject)).toBe(true)
    expect(isAuto([], `Re: ${subject}`)).toBe(false)
  })

  it.each([
    "X-Auto-Response-Suppress: All",
    "X-Auto-Response-Suppress: DR, OOF, AutoReply",
    "Auto-Submitted: no",
    "Precedence: normal",
    "X-Autoreply: no",
    "Return-Path: <ines@example.org>",
    "List-Unsubscribe: <mailto:x@example.org>",
    "X-Mailer: Vacation Planner",
  ])("is a person's: %s", (line) => {
    expect(isAuto([line])).toBe(false)
  })
})

describe("words of ours that come back unmarked (failure M5)", () => {
  const ours = [
    "1) South bed can be cut from today, best 8-14 May, before seed drops. Cut low, leave the roots in. Reply DONE 1, or SNOOZE 1 SAT.",
  ]
  it("are dropped however their lines were broken, and whatever else is said stays", () => {
    expect(
      withoutOurWords(
        "done 1\n\n1) South bed can be cut from today, best\n8-14 May, before seed drops. Cut\nlow, leave the roots in. Reply\nthanks",
        ours,
      ),
    ).toBe("done 1\n\nthanks")
  })
  it("are kept where they are few, since reply words stand in our texts", () => {
    for (const words of ["done 1", "snooze 1 sat", "cut low", "South bed"])
      expect(withoutOurWords(words, ours)).toBe(words)
  })
})

describe("a signature that nobody marked (failure M7)", () => {
  const signed = (words: string) => `${words}\n\nInes Okafor\nDone Right Lawn Care`
  it("is dropped from the third mail on that ends in it", () => {
    let tails: string[] = []
    const read = ["up", "bloom", "cut it"].map((words) => {
      const text = withoutKnownTail(signed(words), tails)
      tails = tailsWith(tails, signed(words))
      return text
    })
    expect(read).toEqual([signed("up"), signed("bloom"), "cut it"])
  })
  it("is never a whole mail, however often it was said", () => {
    for (const words of ["done 1", "south:\ndone 1"]) expect(withoutKnownTail(words, [words, words, words])).toBe(words)
  })
  it("is no answer that somebody gives every time", () => {
    for (const tail of ["done 1", "done 1\nsnooze 2", "all up"])
      expect(withoutKnownTail(`fine\n\n${tail}`, [tail, tail, tail])).toBe(`fine\n\n${tail}`)
  })
  it("is forgotten once mails end in something else", () => {
    expect(withoutKnownTail(signed("up"), ["x", "y", "Ines Okafor\nDone Right Lawn Care"])).toBe(signed("up"))
  })
})
