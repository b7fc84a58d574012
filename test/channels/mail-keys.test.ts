import fc from "fast-check"
import { describe, expect, it } from "vitest"
import { isKeyedAddress, keyedAddress, keyOfMessageId, keysNamed, messageIdOf } from "../../src/channels/mail-keys.ts"
import { FROM, SECRETS } from "./mail-message.ts"

const keys = fc.oneof(
  fc.string({ minLength: 1, maxLength: 80, unit: "binary" }),
  fc.stringMatching(/^[a-z0-9:.<>@_ -]{1,60}$/).filter((key) => key.length > 0),
)
const readable = (key: string) => Buffer.from(key, "utf8").toString("utf8")

describe("our Message-IDs", () => {
  it("follow from key and sender alone", () => {
    const key = "nudge:acre:ines:2026-05-08:mail:1"
    expect(messageIdOf(key, FROM)).toBe("<nudge.acre.ines.2026-05-08.mail.1@garden.example.net>")
    expect(messageIdOf(key, FROM, SECRETS)).toBe(messageIdOf(key, FROM, SECRETS))
  })

  it("are what RFC 5322 allows (dot-atom, 3.2.3), and are read back to the key, for any key", () => {
    fc.assert(
      fc.property(keys, (key) => {
        for (const secrets of [[], SECRETS]) {
          const id = messageIdOf(key, FROM, secrets)
          expect(id).toMatch(/^<[a-zA-Z0-9_-]+(?:\.[a-zA-Z0-9_-]+)*@garden\.example\.net>$/)
          expect(keyOfMessageId(id, FROM, secrets)).toBe(readable(key))
        }
      }),
    )
  })

  it("of two keys are never the same", () => {
    fc.assert(
      fc.property(
        keys,
        keys,
        (a, b) => (messageIdOf(a, FROM) === messageIdOf(b, FROM)) === (readable(a) === readable(b)),
      ),
    )
  })

  it("of others, of other secrets, or with one letter changed are not ours (failure M13)", () => {
    const id = messageIdOf("answer:7", FROM, SECRETS)
    expect(keyOfMessageId(id.replace("garden", "other"), FROM, SECRETS)).toBeNull()
    expect(keyOfMessageId(id, FROM, ["another secret of sixteen"])).toBeNull()
    expect(keyOfMessageId(messageIdOf("answer:7", FROM), FROM, SECRETS)).toBeNull()
    expect(keyOfMessageId(id, FROM, ["another secret of sixteen", ...SECRETS])).toBe("answer:7")
    for (let i = 1; i < id.indexOf("@"); i += 1) {
      const changed = `${id.slice(0, i)}${id[i] === "x" ? "y" : "x"}${id.slice(i + 1)}`
      expect(keyOfMessageId(changed, FROM, SECRETS)).toBeNull()
    }
  })

  it("are found in what an answer names, the last first", () => {
    const [a, b] = [messageIdOf("nudge:1", FROM, SECRETS), messageIdOf("nudge:2", FROM, SECRETS)]
    expect(keysNamed(`<x@y.org> ${a}\r\n ${b} <z@y.org>`, FROM, SECRETS)).toEqual(["nudge:2", "nudge:1"])
    expect(keysNamed("", FROM, SECRETS)).toEqual([])
  })
})

describe("addresses that one person alone was told", () => {
  it("belong to that person and no other", () => {
    const address = keyedAddress(FROM, "acre/ines", SECRETS)
    expect(address).toMatch(/^bot\+[a-z2-7]{20}@garden\.example\.net$/)
    expect(isKeyedAddress(address, "acre/ines", SECRETS)).toBe(true)
    expect(isKeyedAddress(address.toUpperCase(), "acre/ines", SECRETS)).toBe(true)
    expect(isKeyedAddress(address, "acre/theo", SECRETS)).toBe(false)
    expect(isKeyedAddress(address, "acre/ines", ["another secret of sixteen"])).toBe(false)
    expect(isKeyedAddress("bot@garden.example.net", "acre/ines", SECRETS)).toBe(false)
    expect(isKeyedAddress(`${address.slice(0, 5)}@garden.example.net`, "acre/ines", SECRETS)).toBe(false)
  })

  it("keep a plus that the sender's address has already", () => {
    const address = keyedAddress("bot+beds@garden.example.net", "acre/ines", SECRETS)
    expect(address).toMatch(/^bot\+beds\+[a-z2-7]{20}@/)
    expect(isKeyedAddress(address, "acre/ines", SECRETS)).toBe(true)
  })

  it("are of no use as Message-IDs, nor the other way round", () => {
    const tag = /\+([a-z2-7]+)@/.exec(keyedAddress(FROM, "x", SECRETS))?.[1]
    expect(keyOfMessageId(`<x.${tag}@garden.example.net>`, FROM, SECRETS)).toBeNull()
  })
})
