import { generateKeyPairSync } from "node:crypto"
import { mkdtempSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { simpleParser } from "mailparser"
import { afterEach, describe, expect, it } from "vitest"
import { type MailNeeds, type MailSettings, openMail } from "../../src/channels/mail.ts"
import { isKeyedAddress } from "../../src/channels/mail-keys.ts"
import { WrongInput } from "../../src/values/problem.ts"
import { at } from "../given.ts"
import { type SmtpStandIn, smtpStandIn } from "../stand-ins/mail-smtp.ts"
import { aMail, FROM, SECRETS } from "./mail-message.ts"

const NOW = at("2026-05-08 08:00")
const NOTHING: MailSettings = { smtpUrl: null, mailFrom: null, imapUrl: null, dkim: null }
const open: { close(): unknown }[] = []
afterEach(async () => {
  for (const each of open.splice(0)) await each.close()
})

function opened(settings: Partial<MailSettings>) {
  const needs: MailNeeds = {
    settings: { ...NOTHING, ...settings },
    secrets: SECRETS,
    store: { recall: async () => null, remember: async () => {}, outgoing: async () => null },
    peopleAt: () => [],
    receive: async () => "new",
    photos: "photos",
    wait: () => 1000,
    now: () => NOW,
    log: { info: () => {}, warn: () => {} },
  }
  const mail = openMail(needs)
  open.push(mail)
  return mail
}

async function server(): Promise<SmtpStandIn> {
  const standIn = await smtpStandIn()
  open.push(standIn)
  return standIn
}

describe("mail as the settings have it", () => {
  it("is nothing where nothing is set", () => {
    expect(opened({})).toMatchObject({ channel: null, inbox: null, stopAddress: null })
  })

  it("sends without a mailbox, and then asks for no answer elsewhere", async () => {
    const standIn = await server()
    const mail = opened({ smtpUrl: standIn.url, mailFrom: FROM })
    expect(mail).toMatchObject({ inbox: null, stopAddress: null })
    await mail.channel?.send(aMail(), NOW)
    expect((await simpleParser(standIn.taken[0]!.raw)).replyTo).toBeUndefined()
  })

  it("with a mailbox asks each person for an answer at an address of their own", async () => {
    const standIn = await server()
    const mail = opened({ smtpUrl: standIn.url, mailFrom: FROM, imapUrl: "imap://bot:x@127.0.0.1:1" })
    expect(mail.stopAddress).toBe("bot@garden.example.net")
    expect(mail.inbox?.state()).toEqual({ lastLook: null, error: null })
    await mail.channel?.send(aMail(), NOW)
    const replyTo = (await simpleParser(standIn.taken[0]!.raw)).replyTo?.value[0]?.address ?? ""
    expect(isKeyedAddress(replyTo, "acre/ines", SECRETS)).toBe(true)
  })

  it("reads the key of its signature, and says which setting is wrong where it cannot", async () => {
    const folder = mkdtempSync(join(tmpdir(), "ryebell-dkim-"))
    open.push({ close: () => rmSync(folder, { recursive: true }) })
    const { privateKey } = generateKeyPairSync("rsa", { modulusLength: 2048 })
    writeFileSync(join(folder, "good.pem"), privateKey.export({ type: "pkcs8", format: "pem" }))
    writeFileSync(join(folder, "bad.pem"), "no key")
    const standIn = await server()
    const dkim = (keyFile: string) => ({
      domain: "garden.example.net",
      selector: "rye",
      keyFile: join(folder, keyFile),
    })
    const signed = opened({ smtpUrl: standIn.url, mailFrom: FROM, dkim: dkim("good.pem") })
    await signed.channel?.send(aMail(), NOW)
    expect((await simpleParser(standIn.taken[0]!.raw)).headers.has("dkim-signature")).toBe(true)
    for (const file of ["bad.pem", "none.pem"])
      expect(() => opened({ smtpUrl: standIn.url, mailFrom: FROM, dkim: dkim(file) })).toThrow(WrongInput)
  })
})
