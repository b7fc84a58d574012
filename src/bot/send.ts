import type { NewEntry, Told, Via } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import { addMs, type Instant } from "../values/instant.ts"
import { withoutTokens } from "../wording/new-links.ts"
import { isForGood } from "./hold.ts"
import { count, type House } from "./house.ts"
import { viewNow } from "./known.ts"
import type { Channel, Outgoing, SendOutcome, Telling } from "./needs.ts"
import { applyIncoming } from "./receive.ts"
import { countText, refusalOf } from "./refusal.ts"
import { retryWait, WAITS } from "./waits.ts"

/**
 * Sends every message whose time has come, one after the other, and records what became of each in the transaction that
 * marks it. A message whose moment has passed, or whose person has said stop since, is dropped and the log says so.
 */
export async function sendDue(house: House, now: Instant): Promise<number> {
  await reconcile(house, now)
  let sent = 0
  for (let taken = 0; taken < WAITS.perTick; taken += 1) {
    // A stop that came while others were being sent to counts before the next message.
    await applyIncoming(house, now)
    const message = await sendNext(house, now)
    if (message === null) return sent
    if (message === "sent") sent += 1
  }
  return sent
}

/** Sends the next message whose time has come; null where there is none. */
export async function sendNext(house: House, now: Instant): Promise<"sent" | "not sent" | null> {
  if (house.pace && !(await house.pace(now))) return null
  const message = await house.store.claimOutgoing(now, WAITS.sendLeaseMs)
  if (!message) return null
  return (await sendOne(house, message, now)) ? "sent" : "not sent"
}

async function sendOne(house: House, message: Outgoing, now: Instant): Promise<boolean> {
  const channel = channelFor(house, message)
  const outcome = await weighed(house, message, await outcomeOf(house, message, channel, now), now)
  const settled = await house.store.settleOutgoing(
    message.key,
    message.attempts,
    outcome,
    entriesFor(message, outcome, channel?.via ?? "cli", now),
  )
  await countText(house, message, outcome, now)
  count(house, `${message.channel} ${outcome.is}`)
  if (message.channel === "text" && outcome.is !== "failed" && outcome.is !== "dropped")
    house.memory.textDownSince = outcome.is === "sent" ? null : (house.memory.textDownSince ?? now)
  if (outcome.is !== "sent") {
    house.memory.errors.set(message.channel, outcome.code)
    house.log.warn(
      { key: message.key, channel: message.channel, is: outcome.is, code: outcome.code },
      "a message did not go",
    )
  } else house.memory.errors.delete(message.channel)
  return settled && outcome.is === "sent"
}

async function outcomeOf(house: House, message: Outgoing, channel: Channel | null, now: Instant): Promise<SendOutcome> {
  if (now > message.goodUntil)
    return { is: "dropped", code: "too-late", text: "its moment had passed before it could be sent" }
  const refused = (await refusalOf(house, message, now)) ?? (await byMailInstead(house, message, now))
  if (refused) return refused
  if (!channel) return { is: "failed", code: "no-channel", text: `no channel for ${message.channel} is switched on` }
  try {
    return await channel.send(message, now)
  } catch (error) {
    house.log.error({ key: message.key, error }, "a channel threw")
    return {
      is: "unknown",
      dueAt: addMs(now, retryWait(message.attempts, spreadOf(message.key))),
      code: "channel-error",
      text: "the channel failed in a way it does not know",
    }
  }
}

/** A refusal that may be the mistake of one day does not end the channel yet. */
async function weighed(house: House, message: Outgoing, outcome: SendOutcome, now: Instant): Promise<SendOutcome> {
  if (outcome.is !== "failed" || outcome.hold !== "held") return outcome
  const { hold: _hold, ...once } = outcome
  return (await isForGood(house, message, outcome.code, now)) ? outcome : once
}

/** A nudge that no carrier has taken for hours is let go: it is due again at once, and goes by mail (failure O1). */
async function byMailInstead(house: House, message: Outgoing, now: Instant): Promise<SendOutcome | null> {
  const down = house.memory.textDownSince
  const person = house.shelf.byId(message.garden)?.people.find((each) => each.id === message.person)
  const isStuck = message.kind === "nudge" && message.channel === "text" && message.told.length > 0
  if (!isStuck || down === null || now - down < WAITS.mailInsteadMs || !person || person.email === null) return null
  const view = await viewNow(house, house.shelf.byId(message.garden) as Garden, now)
  if (house.mail === null || view.history.channels.get(person.id)?.mail !== "open") return null
  return { is: "dropped", code: "by-mail", text: "no text has gone out for hours; the same goes by mail" }
}

/** Messages whose try never came back: ask the carrier before any resend. */
export async function reconcile(house: House, now: Instant): Promise<void> {
  for (const message of await house.store.unsettledOutgoing(now)) {
    const channel = channelFor(house, message)
    const answer = channel?.wasTaken ? await channel.wasTaken(message).catch(() => null) : null
    const outcome: SendOutcome = answer?.taken
      ? { is: "sent", carrierId: answer.carrierId }
      : answer
        ? { is: "later", dueAt: now, code: "not-taken", text: "the try before never reached the carrier" }
        : unasked(message, now)
    await house.store.settleOutgoing(
      message.key,
      message.attempts,
      outcome,
      entriesFor(message, outcome, channel?.via ?? "cli", now),
    )
  }
}

const CANNOT_ASK = "cannot-ask"

/**
 * The carrier cannot be asked: the message waits. In the last minutes in which it is of use it is asked about once more and
 * more; then it goes again, since a double costs less than a loss (failure D1). Past that it is given up after some days.
 */
function unasked(message: Outgoing, now: Instant): SendOutcome {
  const { goodUntil, attempts, key } = message
  const before = (ms: number) => addMs(goodUntil, -ms)
  const isLast = now > before(2 * WAITS.lastAsksMs) && now <= goodUntil
  if (isLast && message.lastError?.startsWith(`${CANNOT_ASK}:`))
    return { is: "later", dueAt: now, code: "last-chance", text: "nobody can say whether the carrier has it" }
  if (now > addMs(goodUntil, WAITS.neverKnownMs))
    return { is: "dropped", code: "never-known", text: "nobody could say for days whether the carrier had it" }
  const next = addMs(now, retryWait(attempts, spreadOf(key)))
  const ends = now <= goodUntil && next > before(WAITS.lastChanceMs)
  const soon = Math.max(before(WAITS.lastChanceMs), addMs(now, WAITS.lastAsksMs)) as Instant
  return {
    is: "unknown",
    dueAt: ends ? soon : next,
    code: CANNOT_ASK,
    text: "the carrier cannot be asked whether it took the message",
  }
}

function channelFor(house: House, message: Outgoing): Channel | null {
  return message.channel === "text" ? house.text : house.mail
}

/** What the log says of a try: nothing while it is still under way. */
function entriesFor(message: Outgoing, outcome: SendOutcome, via: Via, now: Instant): NewEntry[] {
  const common = { at: now, garden: message.garden, by: "ryebell", via } as const
  switch (outcome.is) {
    case "sent":
      return [sentEntry(message, common)]
    case "failed":
    case "dropped": {
      const failed: NewEntry = {
        ...common,
        kind: "failed",
        to: message.person,
        of: message.told.map((told) => told.id),
        code: outcome.code,
        text: outcome.text,
        message: message.key,
      }
      return outcome.is === "failed" && outcome.hold
        ? [
            failed,
            {
              ...common,
              kind: "channel",
              person: message.person,
              channel: message.channel,
              state: outcome.hold,
              because: outcome.code,
            },
          ]
        : [failed]
    }
    case "later":
    case "unknown":
      return []
    default:
      return outcome satisfies never
  }
}

function isNumbered(telling: Telling): telling is Told {
  return telling.n !== undefined
}

type Common = { at: Instant; garden: string; by: string; via: Via }

function sentEntry(message: Outgoing, common: Common): NewEntry {
  switch (message.kind) {
    case "nudge":
      return {
        ...common,
        kind: "sent",
        to: message.person,
        text: message.text,
        told: message.told.filter(isNumbered),
        message: message.key,
      }
    case "digest":
      return {
        ...common,
        kind: "digest",
        to: message.person,
        week: message.key.split(":").at(-1) ?? "",
        told: message.told,
        ...(message.seen === undefined ? {} : { seen: message.seen }),
      }
    case "answer":
    case "service":
      return {
        ...common,
        kind: "answer",
        to: message.person,
        text: withoutTokens(message.text),
        ...(message.answers === undefined ? {} : { answers: message.answers }),
        message: message.key,
      }
    default:
      return message.kind satisfies never
  }
}

/** A number from 0 to 1 that depends on the key alone: spreads waits without drawing lots. */
export function spreadOf(key: string): number {
  let hash = 2166136261
  for (let i = 0; i < key.length; i += 1) hash = Math.imul(hash ^ key.charCodeAt(i), 16777619)
  return (hash >>> 0) / 2 ** 32
}
