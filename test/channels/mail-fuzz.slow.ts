import { setFlagsFromString } from "node:v8"
import { runInNewContext } from "node:vm"
import { describe, expect, it } from "vitest"
import { bouncesOf } from "../../src/channels/mail-bounce.ts"
import { parseMail } from "../../src/channels/mail-mime.ts"
import { readIncoming } from "../../src/channels/mail-reading.ts"
import { replyOf } from "../../src/channels/reply-of.ts"
import { at } from "../given.ts"
import { FROM, SECRETS } from "./mail-message.ts"
import { SAMPLES } from "./reply-of-samples.ts"

/** How many mails: `MAILS=100000` for the long run. */
const MAILS = Number(process.env.MAILS ?? 20_000)
const SEED = Number(process.env.SEED ?? 20260509)

/** Repeatable numbers below a bound (mulberry32: from memory, public domain). */
function dice(seed: number): (below: number) => number {
  let state = seed >>> 0
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) % below
  }
}

const PIECES = [
  "\r\n\r\n",
  "\n",
  "\r",
  "\0",
  "--",
  "-- \n",
  "> ",
  ">",
  "<",
  "</",
  "<!--",
  "<blockquote>",
  "</div>",
  "&#x110000;",
  "&amp",
  "=",
  "=\n",
  "=?utf-8?q?",
  "?=",
  "=?",
  '"',
  "\\",
  ";",
  ":",
  "On 1 @ wrote:",
  "From: a@b 2026\n",
  "Content-Type: multipart/mixed; boundary=x\n\n--x\n",
  "Content-Type: text/html\n",
  "Content-Transfer-Encoding: base64\n",
  'boundary="',
  "charset=utf-16",
  "format=flowed",
  "\xff\xfe",
  "\xc3",
  "é",
  "\u2028",
  "x".repeat(2000),
  "a ".repeat(800),
  "_".repeat(400),
  "[image: ",
  "cid:",
  " wrote:\n",
].map((each) => Buffer.from(each, "utf8"))

/** A mail with one to twelve things wrong with it. */
function mutated(roll: (below: number) => number): Buffer {
  const any = () => SAMPLES[roll(SAMPLES.length)]!.eml
  let mail = Buffer.from(any())
  for (let change = 0; change <= roll(12); change += 1) {
    const at = roll(mail.length + 1)
    const length = roll(60)
    switch (roll(7)) {
      case 0:
        if (mail.length > 0) mail[at % mail.length] = roll(256)
        break
      case 1:
        mail = mail.subarray(0, at)
        break
      case 2:
        mail = Buffer.concat([mail.subarray(0, at), mail.subarray(at + length)])
        break
      case 3:
        mail = Buffer.concat([mail.subarray(0, at), PIECES[roll(PIECES.length)]!, mail.subarray(at)])
        break
      case 4:
        mail = Buffer.concat([mail.subarray(0, at), any().subarray(roll(400))])
        break
      case 5:
        mail = Buffer.concat([mail.subarray(0, at), mail.subarray(Math.max(0, at - length), at), mail.subarray(at)])
        break
      default:
        mail = Buffer.concat([
          mail.subarray(0, at),
          Buffer.from(Array.from({ length: roll(20) }, () => roll(256))),
          mail.subarray(at),
        ])
    }
    if (mail.length > 200_000) mail = mail.subarray(0, 200_000)
  }
  return mail
}

function heapAfterCollection(): number {
  setFlagsFromString("--expose-gc")
  const collect = runInNewContext("gc") as () => void
  collect()
  collect()
  return process.memoryUsage().heapUsed
}

describe(`mails with everything wrong with them (${MAILS}, seed ${SEED})`, () => {
  it("never break the reader, read the same twice, and leave no memory behind", async () => {
    const roll = dice(SEED)
    const needs = { from: FROM, secrets: SECRETS, peopleAt: () => ["acre/ines"], recipientOf: async () => null }
    const arrived = at("2026-05-09 09:45")
    const counts = { auto: 0, bounce: 0, words: 0, photos: 0 }
    let early = 0
    let mostMs = 0
    for (let i = 0; i < MAILS; i += 1) {
      if (i === Math.floor(MAILS / 4)) early = heapAfterCollection()
      const mail = mutated(roll)
      const start = performance.now()
      const read = replyOf(mail)
      mostMs = Math.max(mostMs, performance.now() - start)
      counts.auto += read.auto ? 1 : 0
      counts.bounce += read.bounce ? 1 : 0
      counts.words += read.reply === "" ? 0 : 1
      counts.photos += read.photos
      if (i % 10 === 0) {
        expect(replyOf(mail)).toEqual(read)
        await readIncoming(mail, arrived, needs)
        bouncesOf(parseMail(mail), FROM, SECRETS)
      }
      // biome-ignore lint/suspicious/noControlCharactersInRegex: what must not be in a reply
      if (/[\u0000-\u0008\u000e-\u001f]/.test(read.reply)) throw new Error(`control letters in the reply of mail ${i}`)
    }
    const late = heapAfterCollection()
    console.log(
      `${JSON.stringify(counts)}, slowest ${mostMs.toFixed(1)} ms, heap ${(early / 1e6).toFixed(1)} -> ${(late / 1e6).toFixed(1)} MB`,
    )
    expect(Math.min(counts.auto, counts.bounce, counts.words, counts.photos)).toBeGreaterThan(MAILS / 100)
    expect(late).toBeLessThan(early * 1.1 + 2e6)
  })
})
