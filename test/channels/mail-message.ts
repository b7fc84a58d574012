import type { Outgoing } from "../../src/bot/needs.ts"
import { at } from "../given.ts"

/** A mail that waits to be sent; what a test does not name has a plain value. */
export function aMail(known: Partial<Outgoing> = {}): Outgoing {
  return {
    key: "nudge:acre:ines:2026-05-08:mail:1",
    garden: "acre",
    person: "ines",
    kind: "nudge",
    channel: "mail",
    to: "ines@example.org",
    subject: "Cut South bed by about 14 May",
    text: "1) South bed can be cut from today, best 8-14 May, before seed drops. Reply DONE 1, or SNOOZE 1 SAT.",
    told: [],
    notBefore: at("2026-05-08 08:00"),
    goodUntil: at("2026-05-14 20:00"),
    state: "sending",
    attempts: 1,
    dueAt: at("2026-05-08 08:00"),
    carrierId: null,
    fate: null,
    lastError: null,
    ...known,
  }
}

export const FROM = "Ryebell <bot@garden.example.net>"
export const SECRETS = ["a secret of sixteen letters and more"]
