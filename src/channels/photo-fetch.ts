import { type LookupAddress, type LookupOptions, lookup as lookUp } from "node:dns"
import { request as httpRequest, type IncomingMessage, type RequestOptions } from "node:http"
import { request as httpsRequest } from "node:https"
import { isIP } from "node:net"
import { isPrivateAddress } from "./private-address.ts"

/** A place that pictures may come from. */
export type Host = {
  /** Scheme, host and port, nothing else. */
  origin: string
  /** How paths there begin. */
  path: string
  /** Does it get our key? */
  key: boolean
  /** A stand-in on this machine: plain http and a private address are right there, and only there. */
  ownMachine?: boolean
}

/** Why a picture was not had. `again`: it may be had another time. */
export class PhotoRefused extends Error {
  readonly code: string
  readonly again: boolean

  constructor(code: string, message: string, again = false) {
    super(message)
    this.name = "PhotoRefused"
    this.code = code
    this.again = again
  }
}

export type FetchRules = {
  hosts: readonly Host[]
  credentials: { user: string; password: string } | null
  mostBytes: number
  timeoutMs: number
}

const MOST_REDIRECTS = 3

/**
 * The bytes behind an address that came in a message, hence from anybody. Only https and only to the hosts named; where a
 * name leads is looked at at the moment of connecting, so that no answer of a name server opens the house's own network;
 * the key goes with the first request alone; a redirect is held to the same hosts (failure X14).
 */
export async function getBytes(address: string, rules: FetchRules): Promise<Uint8Array> {
  const signal = AbortSignal.timeout(rules.timeoutMs)
  let target = address
  for (let hop = 0; hop <= MOST_REDIRECTS; hop += 1) {
    const { url, host } = allowed(target, rules.hosts)
    const answer = await ask(url, host, hop === 0 && host.key ? rules.credentials : null, signal)
    const status = answer.statusCode ?? 0
    const onward = answer.headers.location
    if (status >= 300 && status < 400 && onward !== undefined) {
      answer.destroy()
      if (!URL.canParse(onward, url.href)) throw new PhotoRefused("redirect", "sent on to no address")
      target = new URL(onward, url.href).href
      continue
    }
    if (status === 200) return read(answer, rules.mostBytes)
    answer.destroy()
    const passing = status === 429 || status >= 500
    // Media turns up at the carrier a little after the message that names it.
    throw new PhotoRefused(`http-${status}`, `the picture's host answered ${status}`, passing || status === 404)
  }
  throw new PhotoRefused("redirects", "sent on too often")
}

function allowed(address: string, hosts: readonly Host[]): { url: URL; host: Host } {
  if (!URL.canParse(address)) throw new PhotoRefused("address", "no address of a picture")
  const url = new URL(address)
  if (url.username !== "" || url.password !== "") throw new PhotoRefused("address", "an address that holds a password")
  const host = hosts.find((each) => each.origin === url.origin && url.pathname.startsWith(each.path))
  if (!host) throw new PhotoRefused("host", "not a host of the carrier")
  if (!host.ownMachine && url.protocol !== "https:") throw new PhotoRefused("scheme", "not https")
  return { url, host }
}

function ask(
  url: URL,
  host: Host,
  credentials: FetchRules["credentials"],
  signal: AbortSignal,
): Promise<IncomingMessage> {
  const hostname = url.hostname.replace(/^\[|\]$/g, "")
  // A literal address is never looked up, so it is looked at here.
  if (!host.ownMachine && isIP(hostname) !== 0 && isPrivateAddress(hostname))
    throw new PhotoRefused("private-address", "an address inside the house")
  const options: RequestOptions = {
    method: "GET",
    signal,
    // No connection is shared: each is looked up and looked at anew.
    agent: false,
    headers: { accept: "image/*", "accept-encoding": "identity", "user-agent": "ryebell" },
    ...(credentials ? { auth: `${credentials.user}:${credentials.password}` } : {}),
    ...(host.ownMachine ? {} : { lookup: publicOnly }),
  }
  const request = url.protocol === "https:" ? httpsRequest : httpRequest
  return new Promise((resolve, reject) => {
    const asked = request(url, options, resolve)
    asked.once("error", (error) =>
      reject(
        error instanceof PhotoRefused
          ? error
          : new PhotoRefused("no-answer", "the picture's host does not answer", true),
      ),
    )
    asked.end()
  })
}

type Found = (error: Error | null, address: string | LookupAddress[], family?: number) => void

/** Looks a name up as ever, and refuses it where any of its addresses is private. */
export function publicOnly(name: string, options: LookupOptions, found: Found, through: typeof lookUp = lookUp): void {
  through(name, { ...options, all: true }, (error, addresses) => {
    if (error) return found(error, [])
    if (addresses.length === 0 || addresses.some((each) => isPrivateAddress(each.address)))
      return found(new PhotoRefused("private-address", "an address inside the house"), [])
    const [first] = addresses as [LookupAddress, ...LookupAddress[]]
    return options.all ? found(null, addresses) : found(null, first.address, first.family)
  })
}

async function read(answer: IncomingMessage, mostBytes: number): Promise<Uint8Array> {
  const tooLarge = new PhotoRefused("too-large", "a picture that is too large to keep")
  if (Number(answer.headers["content-length"] ?? 0) > mostBytes) {
    answer.destroy()
    throw tooLarge
  }
  if ((answer.headers["content-encoding"] ?? "identity") !== "identity") {
    answer.destroy()
    throw new PhotoRefused("packed", "a packed picture")
  }
  const parts: Buffer[] = []
  let size = 0
  try {
    for await (const part of answer as AsyncIterable<Buffer>) {
      size += part.length
      if (size > mostBytes) throw tooLarge
      parts.push(part)
    }
  } catch (error) {
    if (error instanceof PhotoRefused) throw error
    throw new PhotoRefused("cut-off", "the picture came in part only", true)
  }
  return Buffer.concat(parts)
}
