import { createHmac, timingSafeEqual } from "node:crypto"

/** Domain of our Message-IDs where the sender's address gives none. */
const FALLBACK_DOMAIN = "ryebell.invalid"
/** Letters of a signature: 100 bits in RFC 4648's base 32, small letters, since parts of an address may lose their case. */
const TAG_LETTERS = 20
const ALPHABET = "abcdefghijklmnopqrstuvwxyz234567"
/** Longest Message-ID that is looked at. */
const MOST_LETTERS = 900

/**
 * `<key.signature@domain of the sender>`: follows from our own key, so that a copy that was sent twice can be told and
 * merged (failure D18), and can be read back to the key. The signature (HMAC-SHA-256 under the first secret) keeps others
 * from naming a mail they never saw (failure M13); without a secret there is none.
 */
export function messageIdOf(key: string, from: string, secrets: readonly string[] = []): string {
  const [secret] = secrets
  const signed = secret === undefined ? "" : `.${tagOf("message", key, secret)}`
  return `<${escaped(key)}${signed}@${domainOf(from)}>`
}

/** The key of a mail of ours from its Message-ID; null where it is none of ours, or not signed by any of the secrets. */
export function keyOfMessageId(id: string, from: string, secrets: readonly string[] = []): string | null {
  const bare = id.trim().replace(/^<|>$/g, "")
  const at = bare.lastIndexOf("@")
  if (at < 1 || bare.length > MOST_LETTERS) return null
  if (bare.slice(at + 1).toLowerCase() !== domainOf(from).toLowerCase()) return null
  const local = bare.slice(0, at)
  if (secrets.length === 0) return unescaped(local)
  const dot = local.lastIndexOf(".")
  const key = dot < 1 ? null : unescaped(local.slice(0, dot))
  if (key === null) return null
  return isTag(local.slice(dot + 1), "message", key, secrets) ? key : null
}

/** Our keys among the Message-IDs that a header names (In-Reply-To, References), the last named first. */
export function keysNamed(header: string, from: string, secrets: readonly string[]): string[] {
  const ids = header.slice(-20_000).match(/<[^<>\s]{3,900}>/g) ?? []
  return ids
    .slice(-50)
    .reverse()
    .flatMap((id) => keyOfMessageId(id, from, secrets) ?? [])
}

/**
 * An address of ours that only this person was told: `name+signature@domain`. What arrives there comes from somebody who
 * saw a mail to them. `person` names garden and person.
 */
export function keyedAddress(from: string, person: string, secrets: readonly string[]): string {
  const address = addressIn(from)
  const at = address.lastIndexOf("@")
  return `${address.slice(0, at)}+${tagOf("address", person, secrets[0] ?? "")}${address.slice(at)}`
}

/** Is this the address that only `person` was told? */
export function isKeyedAddress(address: string, person: string, secrets: readonly string[]): boolean {
  const tag = /\+([^+@]{1,64})@[^@]+$/.exec(address.trim().toLowerCase())?.[1]
  return tag !== undefined && isTag(tag, "address", person, secrets)
}

/** The bare address of `Name <address>`. */
export function addressIn(from: string): string {
  return (/<([^<>]*)>\s*$/.exec(from)?.[1] ?? from).trim()
}

function domainOf(from: string): string {
  return /@([a-zA-Z0-9.-]+)$/.exec(addressIn(from))?.[1] ?? FALLBACK_DOMAIN
}

/**
 * A key as the left side of a Message-ID (RFC 5322 dot-atom): colons become dots, what has no place there is written as
 * `_` and its bytes in hex.
 */
function escaped(key: string): string {
  const bytes = Buffer.from(key, "utf8")
  let out = ""
  bytes.forEach((byte, i) => {
    const letter = String.fromCharCode(byte)
    const isBetween = i > 0 && i + 1 < bytes.length && bytes[i - 1] !== 0x3a
    if (/[a-zA-Z0-9-]/.test(letter)) out += letter
    else if (letter === ":" && isBetween) out += "."
    else out += `_${byte.toString(16).padStart(2, "0")}`
  })
  return out
}

function unescaped(local: string): string | null {
  if (!/^(?:[a-zA-Z0-9.-]|_[0-9a-f]{2})+$/.test(local)) return null
  const bytes = local
    .replace(/\./g, ":")
    .replace(/_([0-9a-f]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)))
  return Buffer.from(bytes, "latin1").toString("utf8")
}

/** `use` keeps a signature made for one thing from being good for another. */
function tagOf(use: "message" | "address", said: string, secret: string): string {
  const mac = createHmac("sha256", secret).update(`mail-${use}\n${said}`).digest()
  let out = ""
  for (let i = 0; i < TAG_LETTERS; i += 1) {
    const bit = i * 5
    const pair = ((mac[bit >> 3] as number) << 8) | (mac[(bit >> 3) + 1] as number)
    out += ALPHABET[(pair >> (11 - (bit & 7))) & 31]
  }
  return out
}

/** Constant time, and the same way for all secrets. */
function isTag(given: string, use: "message" | "address", said: string, secrets: readonly string[]): boolean {
  const bytes = Buffer.alloc(TAG_LETTERS)
  bytes.write(given.toLowerCase().slice(0, TAG_LETTERS), "latin1")
  const right = secrets.reduce(
    (found, secret) => timingSafeEqual(Buffer.from(tagOf(use, said, secret)), bytes) || found,
    false,
  )
  return right && given.length === TAG_LETTERS
}
