import type { DatabaseSync } from "node:sqlite"
import type { NewOutgoing, Outgoing, OutgoingState, SendOutcome } from "../../bot/needs.ts"
import { addMs, type Instant, instant, instantText } from "../../values/instant.ts"
import { isFate, wordsBefore } from "../fate.ts"
import { settledBody } from "../settled.ts"
import { sealed, sumOf } from "./sum.ts"

type Row = {
  key: string
  body: string
  sum: number
  state: OutgoingState
  attempts: number
  due_at: string
  carrier_id: string | null
  fate: string | null
  last_error: string | null
}
const COLUMNS = "key, body, sum, state, attempts, due_at, carrier_id, fate, last_error"

/** Messages to people: queued once by their key, claimed by one try at a time, settled by that try only. */
export function outboxVerbs(db: DatabaseSync, file: string) {
  const add = db.prepare(`
    insert into outgoing (key, garden, person, kind, body, sum, due_at)
    values (:key, :garden, :person, :kind, :body, :sum, :dueAt)
    on conflict (key) do nothing`)
  const claim = db.prepare(`
    update outgoing set state = 'sending', attempts = attempts + 1, lease_until = :until
     where n = (select n from outgoing where state = 'waiting' and due_at <= :now
                 order by kind not in ('answer', 'service'), due_at, n limit 1)
    returning ${COLUMNS}`)
  const settle = db.prepare(`
    update outgoing
       set state = :state, due_at = coalesce(:dueAt, due_at), lease_until = :leaseUntil,
           carrier_id = coalesce(:carrierId, carrier_id), last_error = :error
     where key = :key and attempts = :attempt and state = 'sending'`)
  // A replan while the nudge was on its way may have placed what it says as due again.
  const closeSaid = db.prepare(`
    delete from reminder
     where (garden, person, id) in (select garden, person, told.value ->> 'id'
                                      from outgoing, json_each(body, '$.told') as told
                                     where outgoing.key = :key and kind = 'nudge')
       and speaks_at <= (select due_at from outgoing where key = :key)`)
  const one = db.prepare(`select ${COLUMNS} from outgoing where key = ?`)
  const slim = db.prepare("update outgoing set body = :body, sum = :sum where key = :key")
  const unsettled = db.prepare(`
    select ${COLUMNS} from outgoing where state = 'sending' and lease_until <= ? order by lease_until, n`)
  const endLeases = db.prepare("update outgoing set lease_until = due_at where state = 'sending'")
  const recordFate = db.prepare(`
    update outgoing set fate = :fate, last_error = coalesce(:code, last_error)
     where key = :key and (fate is null or fate in (select value from json_each(:before)))`)

  return {
    /** The keys that were new. */
    queue(messages: readonly NewOutgoing[]): string[] {
      return messages.filter(queueOne).map((message) => message.key)
    },

    claim(now: Instant, leaseMs: number): Outgoing | null {
      const row = claim.get({ now: instantText(now), until: instantText(addMs(now, leaseMs)) })
      return row ? read(row as Row) : null
    },

    settle(key: string, attempt: number, outcome: SendOutcome): boolean {
      const again = "dueAt" in outcome ? instantText(outcome.dueAt) : null
      const { changes } = settle.run({
        key,
        attempt,
        // What is unknown stays in `sending`, so that nobody sends it before the carrier was asked.
        state: outcome.is === "later" ? "waiting" : outcome.is === "unknown" ? "sending" : outcome.is,
        dueAt: again,
        leaseUntil: outcome.is === "unknown" ? again : null,
        carrierId: outcome.is === "sent" ? outcome.carrierId : null,
        error: outcome.is === "sent" ? null : `${outcome.code}: ${outcome.text}`,
      })
      if (changes === 0) return false
      if (outcome.is === "sent") closeSaid.run({ key })
      if (outcome.is !== "later" && outcome.is !== "unknown") slimDown(key)
      return true
    },

    one(key: string): Outgoing | null {
      const row = one.get(key)
      return row ? read(row as Row) : null
    },

    unsettled: (now: Instant): Outgoing[] => (unsettled.all(instantText(now)) as Row[]).map(read),

    /** Tries of a process that is gone are unsettled at once. */
    endLeases: () => void endLeases.run(),

    recordFate(key: string, fate: string, code: string | null): boolean {
      if (!isFate(fate)) return false
      return recordFate.run({ key, fate, code, before: JSON.stringify(wordsBefore(fate)) }).changes === 1
    },
  }

  function slimDown(key: string): void {
    const row = one.get(key) as Row
    const body = settledBody(sealed(row, file, `outgoing message ${key}`))
    if (body !== null) slim.run({ key, body, sum: sumOf(body) })
  }

  function queueOne(message: NewOutgoing): boolean {
    const { key, garden, person, kind } = message
    const body = JSON.stringify({
      ...message,
      notBefore: instantText(message.notBefore),
      goodUntil: instantText(message.goodUntil),
    })
    const dueAt = instantText(message.notBefore)
    return add.run({ key, garden, person, kind, body, sum: sumOf(body), dueAt }).changes === 1
  }

  function read(row: Row): Outgoing {
    const body = JSON.parse(sealed(row, file, `outgoing message ${row.key}`))
    return {
      ...body,
      notBefore: instant(body.notBefore),
      goodUntil: instant(body.goodUntil),
      state: row.state,
      attempts: row.attempts,
      dueAt: instant(row.due_at),
      carrierId: row.carrier_id,
      fate: row.fate,
      lastError: row.last_error,
    }
  }
}

/** The verb that only reads: also for a connection that may not write. */
export function fateReader(db: DatabaseSync) {
  const told = db.prepare("select key, fate from outgoing where garden = ? and fate is not null")
  return {
    fates: (garden: string): Map<string, string> =>
      new Map((told.all(garden) as { key: string; fate: string }[]).map(({ key, fate }) => [key, fate])),
  }
}
