import { randomUUID } from "node:crypto"
import type { DatabaseSync } from "node:sqlite"
import type { DuePerson, ReminderRow } from "../../bot/needs.ts"
import { addMs, type Instant, instantText } from "../../values/instant.ts"

/** When reminders speak next, and whose turn it is to be told. Nobody is told more while a nudge to them is on its way. */
export function reminderVerbs(db: DatabaseSync) {
  const place = db.prepare(`
    insert into reminder (garden, person, id, speaks_at)
    select :garden, value ->> 'person', value ->> 'id', value ->> 'speaksAt' from json_each(:rows) where true
    on conflict (garden, person, id) do update set speaks_at = excluded.speaks_at
     where speaks_at <> excluded.speaks_at`)
  const closeOthers = db.prepare(`
    delete from reminder
     where garden = :garden
       and (person, id) not in (select value ->> 'person', value ->> 'id' from json_each(:rows))`)
  const takeTurn = db.prepare(`
    insert into turn (garden, person, lease, lease_until)
    select garden, person, :lease, :until from reminder
     where speaks_at <= :now
       and not exists (select 1 from turn
                        where turn.garden = reminder.garden and turn.person = reminder.person and lease_until > :now)
       and not exists (select 1 from outgoing
                        where outgoing.garden = reminder.garden and outgoing.person = reminder.person
                          and kind = 'nudge' and state in ('waiting', 'sending'))
     order by speaks_at, garden, person limit 1
    on conflict (garden, person) do update set lease = excluded.lease, lease_until = excluded.lease_until
    returning garden, person`)
  const dueTo = db.prepare(`
    select id from reminder
     where garden = :garden and person = :person and speaks_at <= :now
     order by speaks_at, id`)
  const giveBack = db.prepare("delete from turn where garden = ? and person = ? and lease = ?")
  const giveBackAll = db.prepare("delete from turn")
  const move = db.prepare(
    "update reminder set speaks_at = :speaksAt where garden = :garden and person = :person and id = :id",
  )
  const close = db.prepare("delete from reminder where garden = :garden and person = :person and id = :id")

  return {
    place(garden: string, rows: readonly ReminderRow[]): void {
      const json = JSON.stringify(rows.map((row) => ({ ...row, speaksAt: instantText(row.speaksAt) })))
      closeOthers.run({ garden, rows: json })
      place.run({ garden, rows: json })
    },

    claim(now: Instant, leaseMs: number): DuePerson | null {
      const lease = randomUUID()
      const until = instantText(addMs(now, leaseMs))
      const who = takeTurn.get({ now: instantText(now), lease, until }) as
        | { garden: string; person: string }
        | undefined
      if (!who) return null
      const due = dueTo.all({ garden: who.garden, person: who.person, now: instantText(now) }) as { id: string }[]
      return { garden: who.garden, person: who.person, reminders: due.map((row) => row.id), lease }
    },

    /** False where somebody else has the turn now. */
    giveBack: (due: DuePerson): boolean => giveBack.run(due.garden, due.person, due.lease).changes === 1,

    /** Turns of a process that is gone. */
    giveBackAll: () => void giveBackAll.run(),

    /** Moves an open reminder, or closes it (`null`); a closed one stays closed. */
    move(garden: string, moved: { id: string; person: string; speaksAt: Instant | null }): void {
      const { id, person, speaksAt } = moved
      if (speaksAt === null) close.run({ garden, person, id })
      else move.run({ garden, person, id, speaksAt: instantText(speaksAt) })
    },
  }
}
