import type { Incoming } from "../../src/bot/needs.ts"
import type { Bounce } from "../../src/channels/mail-bounce.ts"
import { type ImapInbox, imapInbox } from "../../src/channels/mail-imap.ts"
import type { ImapOptions } from "../../src/channels/mail-imap-options.ts"
import { instantOf } from "../../src/values/instant.ts"
import { FROM, SECRETS } from "./mail-message.ts"

export type TestInbox = {
  inbox: ImapInbox
  /** Every message handed over, repeats included. */
  handed: Incoming[]
  /** Distinct ids, as a store would keep them. */
  kept(): Incoming[]
  bounces: Bounce[]
  memory: Map<string, string>
  said: string[]
}

/** An inbox whose store is a list, and that knows Ines, Theo and the mails they were sent. */
export function testInbox(
  url: string,
  known: Partial<ImapOptions> = {},
  memory = new Map<string, string>(),
): TestInbox {
  const handed: Incoming[] = []
  const bounces: Bounce[] = []
  const said: string[] = []
  const log = (_what: Record<string, unknown>, message: string) => void said.push(message)
  const inbox = imapInbox({
    url,
    from: FROM,
    secrets: SECRETS,
    peopleAt: (address) => ({ "ines@example.org": ["acre/ines"], "theo@example.org": ["acre/theo"] })[address] ?? [],
    recipientOf: async (key) => (/:(ines|theo):/.test(key) ? `${/:(ines|theo):/.exec(key)?.[1]}@example.org` : null),
    onMail: async (incoming) => void handed.push(incoming),
    onBounce: async (bounce) => void bounces.push(bounce),
    memory: {
      recall: async (name) => memory.get(name) ?? null,
      remember: async (name, value) => void memory.set(name, value),
    },
    now: () => instantOf(Date.now()),
    log: { info: log, warn: log },
    waits: { pollMs: 2000, answerMs: 3000, retryFirstMs: 50, retryMostMs: 400 },
    ...known,
  })
  const kept = () => [...new Map(handed.map((each) => [each.id, each])).values()]
  return { inbox, handed, kept, bounces, memory, said }
}

/** Waits until something is so, asking often; fails after `ms` and says what it waited for. */
export async function until(what: string, isSo: () => boolean | Promise<boolean>, ms = 20_000): Promise<void> {
  const end = performance.now() + ms
  while (!(await isSo())) {
    if (performance.now() > end) throw new Error(`waited ${ms} ms in vain: ${what}`)
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}
