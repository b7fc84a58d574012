import type { NewEntry, Via } from "../garden/entry.ts"
import type { Instant } from "../values/instant.ts"
import { isForGood } from "./hold.ts"
import type { House } from "./house.ts"
import type { Outgoing } from "./needs.ts"

/** What a carrier or a mail server says of a message that it had taken. */
export type FateReport = {
  /** Our own key. */
  key: string
  status: string
  /** What follows where it failed. */
  verdict: { code: string; text: string; hold: "held" | "stopped" | null; again: boolean; ownFault: boolean } | null
}

/**
 * Takes down what became of a message after it was sent. Statuses only move forward, so one that is told twice or late
 * changes nothing. A failure for good holds the person's channel; one that may pass is tried once more under a new key.
 */
export async function noteFate(house: House, report: FateReport, now: Instant): Promise<void> {
  const { key, status, verdict } = report
  if (!verdict) return void (await house.store.recordFate(key, status, null))
  const message = await house.store.outgoing(key)
  if (!message || ENDS.has(message.fate ?? "")) return
  if (verdict.ownFault) house.memory.errors.set(message.channel, verdict.code)
  const hold = verdict.hold === "held" && !(await isForGood(house, message, verdict.code, now)) ? null : verdict.hold
  // The fate comes last: whoever dies before it is told the same once more.
  await house.store.append(failure(message, { ...verdict, hold }, now))
  if (verdict.again && !key.endsWith(AGAIN) && message.goodUntil > now)
    await house.store.queue([onceMore(message, now)])
  await house.store.recordFate(key, status, verdict.code)
}

/** Words of a carrier after which it says nothing more of a message. */
const ENDS = new Set(["delivered", "undelivered", "failed", "canceled"])

/** A mail came back: for good, or only for now, which is for the mail servers to go on with. */
export async function noteBounce(
  house: House,
  bounce: { key: string; permanent: boolean; status: string | null },
  now: Instant,
): Promise<void> {
  if (!bounce.permanent) return
  const code = bounce.status ?? "bounced"
  const verdict = {
    code,
    text: "the mail came back: there is no such mailbox",
    hold: "held" as const,
    again: false,
    ownFault: false,
  }
  await noteFate(house, { key: bounce.key, status: "undelivered", verdict }, now)
}

const AGAIN = ":again"

function failure(
  message: Outgoing,
  { code, text, hold }: NonNullable<FateReport["verdict"]>,
  now: Instant,
): NewEntry[] {
  const via: Via = message.channel === "text" ? "sms" : "email"
  const common = { at: now, garden: message.garden, by: "ryebell", via } as const
  const failed: NewEntry = {
    ...common,
    kind: "failed",
    to: message.person,
    of: message.told.map((told) => told.id),
    code,
    text,
    message: message.key,
  }
  if (hold === null) return [failed]
  return [
    failed,
    { ...common, kind: "channel", person: message.person, channel: message.channel, state: hold, because: code },
  ]
}

function onceMore(message: Outgoing, now: Instant): Parameters<House["store"]["queue"]>[0][number] {
  const {
    state: _state,
    attempts: _attempts,
    dueAt: _dueAt,
    carrierId: _id,
    fate: _fate,
    lastError: _error,
    ...rest
  } = message
  return { ...rest, key: `${message.key}${AGAIN}`, notBefore: now }
}
