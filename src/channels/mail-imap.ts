import { createHash } from "node:crypto"
import { setTimeout as pause } from "node:timers/promises"
import { ImapFlow } from "imapflow"
import type { Instant } from "../values/instant.ts"
import type { ImapOptions, ImapWaits } from "./mail-imap-options.ts"
import { readMailbox } from "./mail-mailbox.ts"
import { serverWords } from "./server-words.ts"

export type ImapInbox = {
  start(): void
  stop(): Promise<void>
  /** When the mailbox was last looked at with success, and what went wrong since. */
  state(): { lastLook: Instant | null; error: string | null }
}

const WAITS: ImapWaits = { pollMs: 10 * 60_000, answerMs: 60_000, retryFirstMs: 5000, retryMostMs: 5 * 60_000 }
/** A mail of the most size that is read, with room for what the protocol adds. */
const MOST_LITERAL = 32 * 1024 * 1024

/**
 * Reads replies from a mailbox as they arrive. The connection idles, is asked for a sign of life at every poll, and is
 * opened anew after any failure, for as long as it takes. What is read is kept before it is marked; marks are a courtesy.
 */
export function imapInbox(options: ImapOptions): ImapInbox {
  const waits = { ...WAITS, ...options.waits }
  const stopping = new AbortController()
  const state: { lastLook: Instant | null; error: string | null } = { lastLook: null, error: null }
  let running: Promise<void> | null = null

  async function run(): Promise<void> {
    let failures = 0
    while (!stopping.signal.aborted) {
      try {
        await session(() => {
          failures = 0
          state.lastLook = options.now()
          state.error = null
        })
      } catch (error) {
        if (stopping.signal.aborted) return
        failures += 1
        state.error = codeOf(error)
        const why = serverWords(error, "IMAP_URL") ?? state.error
        options.log.warn({ code: state.error, failures, why }, "the mailbox cannot be read now; it is tried again")
      }
      const wait = Math.min(waits.retryMostMs, waits.retryFirstMs * 2 ** Math.min(20, Math.max(0, failures - 1)))
      await pause(wait, undefined, { signal: stopping.signal, ref: false }).catch(() => {})
    }
  }

  /** One connection, until it is lost: throws then. Returns only when it is asked to stop. */
  async function session(onLook: () => void): Promise<void> {
    const { client, mailbox, path } = openClient(options.url, waits)
    const bell = bellOf(client, stopping.signal)
    const answered = <T>(work: Promise<T>, ms = waits.answerMs) => withLimit(work, ms, client)
    try {
      await answered(client.connect())
      let opened = await answered(client.mailboxOpen(path))
      options.log.info({ messages: opened.exists }, "the mailbox is open")
      while (!stopping.signal.aborted) {
        await readMailbox({ client, mailbox, opened, options, answered, stopping: stopping.signal })
        onLook()
        // Not waited for: it ends when the next command is given.
        void client.idle().catch(() => false)
        await bell.rings(waits.pollMs)
        if (stopping.signal.aborted) break
        // Asked of the server itself: a connection that went mute looks healthy from here.
        const status = await answered(client.status(path, { uidValidity: true }))
        if (status && status.uidValidity !== undefined && status.uidValidity !== opened.uidValidity) {
          opened = await answered(client.mailboxOpen(path))
        }
      }
      await answered(client.logout(), 2000).catch(() => {})
    } finally {
      bell.end()
      client.close()
    }
  }

  return {
    start() {
      running ??= run()
    },
    async stop() {
      stopping.abort()
      await running
    },
    state: () => ({ ...state }),
  }
}

/** Logs in, opens the mailbox and leaves: how many mails lie in it. Reads and marks nothing. Throws the code of what failed. */
export async function tryMailbox(url: string, answerMs = 15_000): Promise<number> {
  const { client, path } = openClient(url, { ...WAITS, answerMs })
  client.on("error", () => {})
  try {
    await withLimit(client.connect(), answerMs, client)
    const opened = await withLimit(client.mailboxOpen(path, { readOnly: true }), answerMs, client)
    await withLimit(client.logout(), 2000, client).catch(() => {})
    return opened.exists
  } catch (error) {
    throw new Error(codeOf(error), { cause: error })
  } finally {
    client.close()
  }
}

function openClient(address: string, waits: ImapWaits): { client: ImapFlow; mailbox: string; path: string } {
  const url = new URL(address)
  const secure = url.protocol === "imaps:"
  const host = url.hostname.replace(/^\[|\]$/g, "")
  const isLocal = host === "localhost" || host === "::1" || /^127\.\d+\.\d+\.\d+$/.test(host)
  const path = decodeURIComponent(url.pathname.replace(/^\/+/, "")) || "INBOX"
  const user = decodeURIComponent(url.username)
  const client = new ImapFlow({
    host,
    port: Number(url.port) || (secure ? 993 : 143),
    secure,
    // A password goes over the wire in the clear only to this very machine.
    ...(secure ? {} : { doSTARTTLS: !isLocal }),
    auth: { user, pass: decodeURIComponent(url.password) },
    logger: false,
    disableAutoIdle: true,
    connectionTimeout: waits.answerMs,
    greetingTimeout: waits.answerMs,
    maxLiteralSize: MOST_LITERAL,
    maxResponseSize: 2 * MOST_LITERAL,
    maxLineLength: MOST_LITERAL,
  })
  const mailbox = createHash("sha256").update(`${user}\n${host}\n${path}`).digest("hex").slice(0, 16)
  return { client, mailbox, path }
}

/** Rings when the server tells of a new mail, when the connection is lost, and when it is time to stop. */
function bellOf(client: ImapFlow, stop: AbortSignal) {
  let hasRung = false
  let failure: Error | null = null
  let wake: (() => void) | null = null
  const ring = () => {
    hasRung = true
    wake?.()
  }
  const lost = (error: Error) => {
    failure ??= error
    ring()
  }
  client.on("exists", ring)
  client.on("error", lost)
  client.on("close", () => lost(Object.assign(new Error("the connection was closed"), { code: "closed" })))
  stop.addEventListener("abort", ring)
  return {
    async rings(mostMs: number): Promise<void> {
      let timer: NodeJS.Timeout | undefined
      if (!hasRung) {
        await new Promise<void>((resolve) => {
          wake = resolve
          timer = setTimeout(resolve, mostMs)
        })
      }
      clearTimeout(timer)
      wake = null
      hasRung = false
      if (failure && !stop.aborted) throw failure
    },
    end() {
      stop.removeEventListener("abort", ring)
    },
  }
}

/** Waits for an answer so long and no longer; then the connection is given up, since what it would say next is unknown. */
async function withLimit<T>(work: Promise<T>, ms: number, client: ImapFlow): Promise<T> {
  let timer: NodeJS.Timeout | undefined
  const limit = new Promise<never>((_, reject) => {
    timer = setTimeout(() => {
      reject(Object.assign(new Error("the mail server does not answer"), { code: "mute" }))
      client.close()
    }, ms)
  })
  try {
    return await Promise.race([work, limit])
  } finally {
    clearTimeout(timer)
    work.catch(() => {})
  }
}

function codeOf(error: unknown): string {
  if (!(error instanceof Error)) return "mailbox-error"
  if ("authenticationFailed" in error && error.authenticationFailed) return "login-refused"
  return "code" in error && typeof error.code === "string" ? error.code : "mailbox-error"
}
