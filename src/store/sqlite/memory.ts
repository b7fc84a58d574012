import type { DatabaseSync } from "node:sqlite"

/** Small things by name, and how much waits. */
export function memoryVerbs(db: DatabaseSync) {
  const { recall } = memoryReader(db)
  const remember = db.prepare(`
    insert into memory (name, value) values (?, ?) on conflict (name) do update set value = excluded.value`)
  const tally = db.prepare(`
    insert into memory (name, value) values (:name, cast(:more as text))
    on conflict (name) do update set value = cast(cast(value as integer) + :more as text)
    returning cast(value as integer) as count`)
  const depth = db.prepare(`
    select (select count(*) from outgoing where state = 'waiting') +
           (select count(*) from outgoing where state = 'sending') as outgoing,
           (select count(*) from incoming where applied = 0) as incoming,
           (select count(*) from reminder) as reminders`)
  return {
    recall,
    remember: (name: string, value: string): void => void remember.run(name, value),
    tally: (name: string, more: number): number => (tally.get({ name, more }) as { count: number }).count,
    depth: () => ({ ...(depth.get() as { outgoing: number; incoming: number; reminders: number }) }),
  }
}

/** The verb that only reads: also for a connection that may not write. */
export function memoryReader(db: DatabaseSync) {
  const recall = db.prepare("select value from memory where name = ?")
  return {
    recall: (name: string): string | null => (recall.get(name) as { value: string } | undefined)?.value ?? null,
  }
}
