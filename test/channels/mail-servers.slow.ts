import { spawn } from "node:child_process"
import { generateKeyPairSync } from "node:crypto"
import { mkdtempSync, readFileSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { dkimVerify } from "mailauth"
import { simpleParser } from "mailparser"
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest"
import { keyedAddress, messageIdOf } from "../../src/channels/mail-keys.ts"
import { photoSaver } from "../../src/channels/mail-photos.ts"
import { smtpChannel } from "../../src/channels/mail-smtp.ts"
import { openStore } from "../../src/store/open.ts"
import { addMs, instantOf } from "../../src/values/instant.ts"
import { type Dovecot, noDovecot, startDovecot } from "../stand-ins/mail-dovecot.ts"
import { type MailProxy, mailProxy } from "../stand-ins/mail-proxy.ts"
import { smtpStandIn } from "../stand-ins/mail-smtp.ts"
import { testInbox, until } from "./mail-inbox.ts"
import { aMail, FROM, SECRETS } from "./mail-message.ts"
import { eml, SAMPLES } from "./reply-of-samples.ts"

const missing = noDovecot()
const NUDGE = aMail().key
const JPEG = Buffer.from("ffd8ffe000104a46494600010100000100010000ffc0000b080001000101011100ffd9", "hex")

/** A reply of Ines to the mail with this key. */
function replyTo(key: string, words: string, known: { id?: string; head?: string[] } = {}): Buffer {
  return eml({
    head: [
      "From: Ines <ines@example.org>",
      `To: ${FROM}`,
      "Subject: Re: Cut South bed by about 14 May",
      `Date: ${new Date().toUTCString()}`,
      `Message-ID: <${known.id ?? crypto.randomUUID()}@example.org>`,
      `In-Reply-To: ${messageIdOf(key, FROM, SECRETS)}`,
      "MIME-Version: 1.0",
      ...(known.head ?? []),
    ],
    body: `${words}\n\nOn Sat, May 9, 2026 at 7:00 AM ${FROM} wrote:\n> 1) South bed can be cut. Reply DONE 1.\n`,
  })
}

describe.skipIf(missing !== null)(
  `mail through real servers${missing === null ? "" : ` (skipped: ${missing})`}`,
  () => {
    let dovecot: Dovecot
    let boxes = 0
    const open: { stop?(): Promise<void>; close?(): unknown }[] = []
    const folders: string[] = []

    beforeAll(async () => {
      dovecot = await startDovecot()
    })
    afterAll(() => dovecot?.stop())
    afterEach(async () => {
      for (const each of open.splice(0)) await (each.stop?.() ?? each.close?.())
      for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true })
    })

    const aBox = () => {
      boxes += 1
      return `bot${boxes}`
    }
    const aFolder = () => {
      folders.push(mkdtempSync(join(tmpdir(), "ryebell-mail-")))
      return folders.at(-1) as string
    }
    const started = (
      url: string,
      ...more: Parameters<typeof testInbox> extends [string, ...infer Rest] ? Rest : never
    ) => {
      const test = testInbox(url, ...more)
      open.push(test.inbox)
      test.inbox.start()
      return test
    }
    const through = async (): Promise<MailProxy> => {
      const proxy = await mailProxy(dovecot.port)
      open.push(proxy)
      return proxy
    }
    const looked = (test: ReturnType<typeof testInbox>) =>
      until("a first look", () => test.inbox.state().lastLook !== null)

    it("a mail is sent, its signature verified, delivered, read back, answered, and the answer read", async () => {
      const { privateKey, publicKey } = generateKeyPairSync("rsa", { modulusLength: 2048 })
      const server = await smtpStandIn()
      const channel = smtpChannel({
        url: server.url,
        from: FROM,
        secrets: SECRETS,
        dkim: {
          domain: "garden.example.net",
          selector: "rye",
          privateKey: privateKey.export({ type: "pkcs8", format: "pem" }).toString(),
        },
        replyAddressFor: (message) => keyedAddress(FROM, `${message.garden}/${message.person}`, SECRETS),
        wait: () => 1000,
      })
      open.push(channel, server)
      expect(await channel.send(aMail(), instantOf(Date.now()))).toMatchObject({ is: "sent" })

      const record = `v=DKIM1; k=rsa; p=${publicKey.export({ type: "spki", format: "der" }).toString("base64")}`
      const { results } = await dkimVerify(server.taken[0]!.raw, { resolver: async () => [[record]] })
      expect(results[0]?.status?.result).toBe("pass")

      await dovecot.deliver("ines", server.taken[0]!.raw)
      const received = await simpleParser(server.taken[0]!.raw)
      const box = aBox()
      const bot = started(dovecot.url(box))
      await looked(bot)
      await dovecot.deliver(
        box,
        eml({
          head: [
            "From: Ines Okafor <Ines@Example.org>",
            `To: ${received.replyTo?.value[0]?.address}`,
            `Subject: Re: ${received.subject}`,
            `Date: ${new Date().toUTCString()}`,
            "Message-ID: <answer-1@example.org>",
            `In-Reply-To: ${received.messageId}`,
            `References: <older@example.org> ${received.messageId}`,
            "MIME-Version: 1.0",
          ],
          body: `done 1\n\nSent from my iPhone\n\n> On 8 May 2026, at 08:00, Ryebell wrote:\n> ${received.text?.trim()}\n`,
        }),
      )
      await until("the answer", () => bot.handed.length === 1)
      expect(bot.handed[0]).toMatchObject({
        via: "email",
        from: "ines@example.org",
        to: "bot@garden.example.net",
        text: "done 1",
        extra: {
          proof: "thread",
          key: NUDGE,
          subject: "Re: Cut South bed by about 14 May",
          messageId: "<answer-1@example.org>",
          references: `<older@example.org> ${received.messageId} <answer-1@example.org>`,
        },
      })
      await until("the mark", async () => (await dovecot.flags(box))[0]?.includes("\\Seen") === true)
      expect(await dovecot.flags(box)).toEqual([["$Ryebell", "\\Seen"]])
    })

    it("a new mail is noticed by IDLE, long before the next poll", async () => {
      const box = aBox()
      const bot = started(dovecot.url(box), {
        waits: { pollMs: 600_000, answerMs: 5000, retryFirstMs: 50, retryMostMs: 100 },
      })
      await looked(bot)
      for (const words of ["up", "done 1", "bloom"]) {
        await dovecot.deliver(box, replyTo(NUDGE, words))
        await until(words, () => bot.handed.some((each) => each.text === words), 5000)
      }
      expect(bot.handed).toHaveLength(3)
    })

    it("a line that is cut is made anew, and mails that came meanwhile are read once", async () => {
      const box = aBox()
      const proxy = await through()
      const bot = started(dovecot.url(box, proxy.port))
      await looked(bot)
      for (let i = 0; i < 5; i += 1) {
        proxy.refuse(true)
        proxy.cut()
        await dovecot.deliver(box, replyTo(NUDGE, `up ${i}`))
        await until("trouble is said", () => bot.inbox.state().error !== null)
        proxy.refuse(false)
        await until(`mail ${i}`, () => bot.handed.length === i + 1)
      }
      expect(bot.handed.map((each) => each.text)).toEqual([0, 1, 2, 3, 4].map((i) => `up ${i}`))
      await until("all is well again", () => bot.inbox.state().error === null)
    })

    it("a line that goes mute without a sign is noticed within one poll (failure D17)", async () => {
      const box = aBox()
      const proxy = await through()
      const bot = started(dovecot.url(box, proxy.port), {
        waits: { pollMs: 1000, answerMs: 1000, retryFirstMs: 50, retryMostMs: 100 },
      })
      await looked(bot)
      await until("it idles", () => proxy.connections === 1)
      proxy.mute()
      proxy.unmute()
      await dovecot.deliver(box, replyTo(NUDGE, "done 1"))
      await until("the mail", () => bot.handed.length === 1, 1000 + 1000 + 3000)
      expect(proxy.connections).toBeGreaterThan(1)
    })

    it("a server that is mute from the start is tried again until it speaks", async () => {
      const box = aBox()
      const proxy = await through()
      await dovecot.deliver(box, replyTo(NUDGE, "done 1"))
      proxy.mute()
      const bot = started(dovecot.url(box, proxy.port), {
        waits: { pollMs: 1000, answerMs: 300, retryFirstMs: 50, retryMostMs: 100 },
      })
      await until("several tries", () => proxy.connections > 2)
      expect(bot.inbox.state()).toMatchObject({ lastLook: null, error: expect.any(String) })
      proxy.unmute()
      await until("the mail", () => bot.handed.length === 1)
    })

    it("a mailbox numbered anew loses nothing and doubles nothing (failure D16)", async () => {
      const box = aBox()
      const proxy = await through()
      const bot = started(dovecot.url(box, proxy.port))
      await looked(bot)
      for (const words of ["up", "done 1"]) await dovecot.deliver(box, replyTo(NUDGE, words))
      await until("both", () => bot.handed.length === 2)
      const before = bot.memory.get("mailbox")
      proxy.refuse(true)
      proxy.cut()
      await new Promise((resolve) => setTimeout(resolve, 1100))
      dovecot.renumber(box)
      await dovecot.deliver(box, replyTo(NUDGE, "bloom"))
      proxy.refuse(false)
      await until("the third", () => bot.kept().length === 3)
      await until(
        "a place in the new numbers",
        () => bot.memory.get("mailbox") !== before && bot.inbox.state().error === null,
      )
      expect(JSON.parse(bot.memory.get("mailbox") ?? "{}").uidValidity).not.toBe(JSON.parse(before ?? "{}").uidValidity)
      expect(
        bot
          .kept()
          .map((each) => each.text)
          .sort(),
      ).toEqual(["bloom", "done 1", "up"])
      const handed = bot.handed.length
      await dovecot.deliver(box, replyTo(NUDGE, "boot"))
      await until("the next one alone", () => bot.handed.length === handed + 1)
    })

    it("the same mail delivered twice has one id", async () => {
      const box = aBox()
      const bot = started(dovecot.url(box))
      await looked(bot)
      const mail = replyTo(NUDGE, "done 1")
      await dovecot.deliver(box, mail)
      await dovecot.deliver(box, mail)
      await until("both copies", () => bot.handed.length === 2)
      expect(bot.kept()).toHaveLength(1)
    })

    it("a store that cannot keep a mail gets it again, and nothing behind it is lost", async () => {
      const box = aBox()
      let refusals = 3
      const kept: string[] = []
      const bot = started(dovecot.url(box), {
        onMail: async (incoming) => {
          if (refusals-- > 0) throw new Error("disk full")
          kept.push(incoming.text)
        },
      })
      await dovecot.deliver(box, replyTo(NUDGE, "up"))
      await dovecot.deliver(box, replyTo(NUDGE, "done 1"))
      await until("both", () => kept.length === 2)
      expect(kept).toEqual(["up", "done 1"])
      expect(bot.said.filter((line) => line.includes("cannot be read"))).not.toHaveLength(0)
    })

    it("killed between any two steps, each reply is in the store once", { timeout: 120_000 }, async () => {
      for (const step of ["fetched", "mail-logged", "mail-flagged"]) {
        const box = aBox()
        const folder = aFolder()
        for (let i = 0; i < 3; i += 1) await dovecot.deliver(box, replyTo(NUDGE, `done ${i}`))
        let deaths = 0
        while ((await child(dovecot.url(box), folder, deaths < 6 ? step : "")) === "killed") deaths += 1
        expect(deaths).toBeGreaterThan(2)
        const store = await openStore({ folder })
        const texts: string[] = []
        let taken = await store.claimIncoming(instantOf(Date.now()), 60_000)
        for (; taken; taken = await store.claimIncoming(instantOf(Date.now()), 60_000)) texts.push(taken.text)
        await store.close()
        expect(texts.sort()).toEqual(["done 0", "done 1", "done 2"])
        expect(await dovecot.flags(box)).toHaveLength(3)
      }
    })

    it("machines, our own copies, strangers and forgers are told apart (failures M1, M10, M13)", async () => {
      const box = aBox()
      const bot = started(dovecot.url(box))
      await looked(bot)
      const head = (from: string, more: string[] = []) => [
        `From: ${from}`,
        `To: ${FROM}`,
        "Subject: x",
        `Message-ID: <${crypto.randomUUID()}@x.org>`,
        "MIME-Version: 1.0",
        ...more,
      ]
      await dovecot.deliver(box, replyTo(NUDGE, "I am away", { head: ["Auto-Submitted: auto-replied"] }))
      await dovecot.deliver(box, eml({ head: head(FROM), body: "1) South bed can be cut. Reply DONE 1.\n" }))
      await dovecot.deliver(box, eml({ head: head("Shop <sale@shop.example>"), body: "done 1, buy now\n" }))
      await dovecot.deliver(box, eml({ head: head("Ines <ines@example.org>"), body: "forged: done 1\n" }))
      await dovecot.deliver(
        box,
        eml({
          head: head("Theo <theo@example.org>", [`In-Reply-To: ${messageIdOf(NUDGE, FROM, SECRETS)}`]),
          body: "done 1, says Theo with Ines's mail\n",
        }),
      )
      await dovecot.deliver(
        box,
        eml({
          head: head("Ines <ines@example.org>", [`Delivered-To: ${keyedAddress(FROM, "acre/ines", SECRETS)}`]),
          body: "cut south\n",
        }),
      )
      await dovecot.deliver(box, replyTo(NUDGE, ""))
      await dovecot.deliver(box, replyTo(NUDGE, "the last one"))
      await until("the last", () => bot.handed.some((each) => each.text === "the last one"))
      expect(bot.handed.map((each) => [each.from, each.text, each.extra?.proof])).toEqual([
        ["ines@example.org", "forged: done 1", "none"],
        ["theo@example.org", "done 1, says Theo with Ines's mail", "none"],
        ["ines@example.org", "cut south", "address"],
        ["ines@example.org", "the last one", "thread"],
      ])
      const flags = await dovecot.flags(box)
      expect(flags.map((each) => each.includes("\\Seen"))).toEqual([false, false, false, true, true, true, false, true])
    })

    it("a report names the address, our mail and whether it is for good; a made-up one does nothing", async () => {
      const box = aBox()
      const bot = started(dovecot.url(box))
      await looked(bot)
      const report = (id: string, action: string, status: string) =>
        eml({
          head: [
            "Return-Path: <>",
            "From: MAILER-DAEMON@mx.example.org",
            `To: ${FROM}`,
            "Subject: Undelivered",
            `Message-ID: <${crypto.randomUUID()}@mx>`,
            "MIME-Version: 1.0",
          ],
          type: 'multipart/report; report-type=delivery-status; boundary="r"',
          body: `--r\nContent-Type: text/plain\n\nNo.\n--r\nContent-Type: message/delivery-status\n\nReporting-MTA: dns; mx\n\nFinal-Recipient: rfc822; ines@example.org\nAction: ${action}\nStatus: ${status}\n--r\nContent-Type: message/rfc822\n\nMessage-ID: ${id}\nSubject: Cut\n\ndone 1\n--r--\n`,
        })
      await dovecot.deliver(box, report(messageIdOf(NUDGE, FROM), "failed", "5.1.1"))
      await dovecot.deliver(box, report(messageIdOf(NUDGE, FROM, SECRETS), "failed", "5.1.1"))
      await dovecot.deliver(box, report(messageIdOf(NUDGE, FROM, SECRETS), "delayed", "4.4.1"))
      await until("two", () => bot.bounces.length === 2)
      expect(bot.bounces).toEqual([
        { address: "ines@example.org", key: NUDGE, permanent: true, status: "5.1.1" },
        { address: "ines@example.org", key: NUDGE, permanent: false, status: "4.4.1" },
      ])
      expect(bot.handed).toEqual([])
    })

    it("photos are kept beside the data, and of a mail too large only the words come, with a note", async () => {
      const box = aBox()
      const folder = aFolder()
      const bot = started(dovecot.url(box), { savePhoto: photoSaver(folder) })
      await looked(bot)
      const withPhoto = (bytes: Buffer, words: string) => {
        const start = replyTo(NUDGE, "")
          .toString("latin1")
          .split("\r\n")
          .filter((line) => !/^(Content-|MIME)/.test(line))
        const head = start.slice(0, start.indexOf("")).join("\r\n")
        return `${head}\r\nMIME-Version: 1.0\r\nContent-Type: multipart/mixed; boundary="p"\r\n\r\n--p\r\nContent-Type: text/plain; charset=utf-8\r\nContent-Transfer-Encoding: quoted-printable\r\n\r\n${words}\r\n--p\r\nContent-Type: image/jpeg; name="a.jpg"\r\nContent-Transfer-Encoding: base64\r\nContent-Disposition: attachment; filename="a.jpg"\r\n\r\n${bytes.toString("base64").replace(/(.{76})/g, "$1\r\n")}\r\n--p--\r\n`
      }
      await dovecot.deliver(box, withPhoto(JPEG, "is this =62loom?"))
      await until("the first", () => bot.handed.length === 1)
      const [first] = bot.handed
      expect(first).toMatchObject({ text: "is this bloom?", media: [{ type: "image/jpeg" }] })
      expect(readFileSync(join(folder, first!.media[0]!.url))).toEqual(JPEG)
      await dovecot.deliver(box, withPhoto(Buffer.concat([JPEG, Buffer.alloc(20 * 1024 * 1024)]), "here it is"))
      await until("the second", () => bot.handed.length === 2)
      expect(bot.handed[1]).toMatchObject({
        text: "here it is",
        media: [],
        extra: { photosMissing: "1", proof: "thread", note: expect.stringContaining("too large") },
      })
    })

    it("at the first look ever only answers to mails of ours are read, and none that is older than three days", async () => {
      const box = aBox()
      const now = instantOf(Date.now())
      await dovecot.deliver(box, replyTo(NUDGE, "too old"), new Date(addMs(now, -9 * 24 * 3_600_000)))
      await dovecot.deliver(
        box,
        eml({ head: ["From: Ines <ines@example.org>", `To: ${FROM}`, "Message-ID: <q@x>"], body: "an older letter\n" }),
      )
      await dovecot.deliver(box, replyTo(NUDGE, "done 1"))
      const bot = started(dovecot.url(box))
      await looked(bot)
      expect(bot.handed.map((each) => each.text)).toEqual(["done 1"])
    })

    it("our own words that come back unmarked, and a signature that nobody marked, are no reply (failures M5, M7)", async () => {
      const box = aBox()
      const bot = started(dovecot.url(box), { sentTo: async () => [aMail().text] })
      await looked(bot)
      const signed = (words: string) => replyTo(NUDGE, `${words}\n\nInes Okafor\nCut & Dried Flowers`)
      for (const words of [
        "up",
        "bloom",
        "done 1\n\n1) South bed can be cut from today,\nbest 8-14 May, before seed drops.",
      ]) {
        const before = bot.handed.length
        await dovecot.deliver(box, signed(words))
        await until(words, () => bot.handed.length === before + 1)
      }
      expect(bot.handed.map((each) => each.text)).toEqual([
        "up\n\nInes Okafor\nCut & Dried Flowers",
        "bloom\n\nInes Okafor\nCut & Dried Flowers",
        "done 1",
      ])
    })

    it("every sample mail passes through the server and stops nothing", async () => {
      const box = aBox()
      const bot = started(dovecot.url(box), { strangers: "pass" })
      await looked(bot)
      for (const sample of SAMPLES) if (sample.eml.length > 0) await dovecot.deliver(box, sample.eml)
      await dovecot.deliver(box, replyTo(NUDGE, "the last one"))
      await until("the last", () => bot.handed.some((each) => each.text === "the last one"), 60_000)
      expect(bot.said.filter((line) => line.includes("could not be read"))).toEqual([])
    })

    it("a wrong password is said as such", async () => {
      const bot = started(dovecot.url("bot").replace("secret", "wrong"))
      await until("the trouble", () => bot.inbox.state().error === "login-refused")
    })
  },
)

function child(url: string, folder: string, step: string): Promise<"killed" | number> {
  const program = new URL("./mail-child.ts", import.meta.url).pathname
  const node = spawn(process.execPath, [program, url, folder, step], { stdio: ["ignore", "inherit", "inherit"] })
  return new Promise((resolve) =>
    node.once("exit", (code, signal) => resolve(signal === "SIGKILL" ? "killed" : (code ?? -1))),
  )
}
