/** The carrier's webhooks on the real server, with an inbox that keeps as the store does: the first of an id wins. */
import type { Incoming } from "../../src/bot/needs.ts"
import { smsHooks } from "../../src/channels/sms-hooks.ts"
import { type Instant, instant } from "../../src/values/instant.ts"
import { startWeb, webApp } from "../../src/web/server.ts"
import { type Refusal, type Report, type TwilioNeeds, twilioHooks } from "../../src/web/twilio-hooks.ts"
import { signatureOf } from "../stand-ins/carrier-webhooks.ts"
import { pages } from "./pages.ts"

export const TOKEN = "12345abcde67890fghij12345klmno00"
export const PUBLIC_URL = "https://bot.example.org"
export const NOW = instant("2026-05-13T12:00:00Z")
export const FORM = "application/x-www-form-urlencoded"

export type Pairs = [string, string][]

/** A text of Ines as the carrier posts it. */
export function aPost(over: Record<string, string> = {}): Pairs {
  return Object.entries({
    MessageSid: `SM${"a1".repeat(16)}`,
    AccountSid: `AC${"0b".repeat(16)}`,
    From: "+17175550142",
    To: "+17175550100",
    Body: "done 1",
    NumMedia: "0",
    ...over,
  })
}

/** What the carrier reports of a text. */
export function aReport(over: Record<string, string> = {}): Pairs {
  return Object.entries({ MessageSid: `SM${"b2".repeat(16)}`, MessageStatus: "delivered", AccountSid: "AC1", ...over })
}

export const sidOf = (n: number) => `SM${n.toString(16).padStart(32, "0")}`

export function webhooks(over: Partial<TwilioNeeds> = {}) {
  const inbox: Incoming[] = []
  const reports: (Report & { key: string })[] = []
  const refusals: Refusal[] = []
  const errors: unknown[] = []
  const counts = { woken: 0 }
  const clock = { now: NOW as Instant }
  const hooks = smsHooks({ tokens: [TOKEN] })
  const needs: TwilioNeeds = {
    publicUrl: PUBLIC_URL,
    now: () => clock.now,
    readInbound: hooks.readInbound,
    readStatus: hooks.readStatus,
    keep: async (incoming) => {
      if (inbox.some((each) => each.id === incoming.id)) return "repeat"
      inbox.push(incoming)
      return "new"
    },
    noteStatus: async (report) => {
      const { key, sid, status } = report
      if (!reports.some((each) => each.key === key && each.sid === sid && each.status === status)) reports.push(report)
    },
    wake: () => {
      counts.woken += 1
    },
    refused: (why) => void refusals.push(why),
    failed: (error) => void errors.push(error),
    ...over,
  }
  const setup = pages()
  const web = { ...setup.needs, more: twilioHooks(needs) }
  return {
    inbox,
    reports,
    refusals,
    errors,
    counts,
    clock,
    visits: setup.visits,
    app: webApp(web),
    start: () => startWeb(web),
    /** All that could be changed by a visit. */
    state: () => JSON.stringify({ inbox, reports, woken: counts.woken }),
  }
}

/** A request as the carrier makes it; `signed` is the address that it signs. */
export function request(
  path: string,
  form: Pairs,
  { signed = PUBLIC_URL + path, headers = {} as Record<string, string>, token = TOKEN } = {},
): RequestInit {
  return {
    method: "POST",
    headers: { "content-type": FORM, "x-twilio-signature": signatureOf(token, signed, form), ...headers },
    body: new URLSearchParams(form).toString(),
  }
}
