import type { Seen } from "../../bot/needs.ts"
import type { Entry, NewEntry } from "../../garden/entry.ts"
import { logLine, numbered, readEntry } from "../../garden/read-log.ts"
import { damaged } from "../trouble.ts"
import { plain, type Session, type Statement } from "./session.ts"

const NUMBER = '{"seq":1,'

/** Entries as the columns that a statement takes them in; `of` may name what each hangs on. */
export type EntryColumns = { entries: Entry[]; gardens: string[]; bodies: string[] }

/**
 * New entries in the form in which they will be read again. Throws a RangeError, before anything is written, where one
 * could not be.
 */
export function columnsOf(entries: readonly NewEntry[]): EntryColumns {
  const kept = entries.map((entry) => numbered(entry, 1))
  return {
    entries: kept,
    gardens: kept.map((entry) => plain(entry.garden)),
    bodies: kept.map((entry) => `{${logLine(entry).slice(NUMBER.length)}`),
  }
}

/**
 * The part of a statement that appends to the log: `gate` is a condition on each new entry `e` (columns `garden`, `body`,
 * `n`, and `of`). Takes what `appended` gives as the parameters from `$first` on. A garden's row is locked by it, so numbers
 * have no holes and become visible in order. Rows of a hundred gardens meet once only: the server makes such a join by
 * comparing each with each.
 */
export function appending(first: number, gate: string): string {
  return `
    fresh as (
      select e.garden, e.body, row_number() over (partition by e.garden order by e.n)::int as k,
             count(*) over (partition by e.garden)::int as of_garden
        from unnest($${first}::text[], $${first + 1}::text[], $${first + 2}::text[])
          with ordinality as e(garden, body, of, n) where ${gate}),
    moved_on as (
      insert into ryebell.garden as g (id, last_seq)
      select garden, max(of_garden) from fresh group by garden order by garden
      on conflict (id) do update
         set last_seq = g.last_seq + excluded.last_seq,
             look_at = case when g.mark is null then null else '-infinity'::timestamptz end
      returning id, last_seq),
    placed as (
      select f.garden, f.body, f.k, m.last_seq - f.of_garden as last
        from fresh f join moved_on m on m.id = f.garden
       where case when f.garden = $${first + 3} then ryebell.follows(m.last_seq - f.of_garden, $${first + 4}::int) else true end),
    begins as (select garden, last from placed where k = 1),
    appended as (
      insert into ryebell.entry (garden, seq, body) select garden, last + k, body from placed)`
}

/** The parameters that `appending` takes; `of` names what each entry hangs on. */
export function appended(columns: EntryColumns, seen: Seen | null, of?: readonly string[]): unknown[] {
  const hangs = of ?? columns.gardens.map(() => null)
  return [columns.gardens, columns.bodies, hangs, seen === null ? null : plain(seen.garden), seen?.seq ?? null]
}

const APPEND: Statement = {
  name: "append",
  text: `with ${appending(1, "true")} select garden, last from begins`,
}
const ENTRIES: Statement = {
  name: "entries",
  text: "select seq, body from ryebell.entry where garden = $1 and seq > $2 order by seq",
}
const GARDENS: Statement = { name: "gardens", text: "select id from ryebell.garden where last_seq > 0 order by id" }

/** Where the log of each garden stood before a statement appended to it. */
export type Begin = { garden: string; last: number }

/** The entries of a statement under the numbers that it gave them. */
export function underNumbers(columns: EntryColumns, begins: readonly Begin[]): Entry[] {
  const last = new Map(begins.map((begin) => [begin.garden, begin.last]))
  return columns.entries.map((entry, i) => {
    const garden = columns.gardens[i] as string
    const seq = (last.get(garden) ?? 0) + 1
    last.set(garden, seq)
    return { ...entry, seq }
  })
}

/** The log: added to at its end, read from any number on, never changed. */
export function logVerbs(session: Session) {
  return {
    ...logReader(session),
    async append(entries: readonly NewEntry[], seen: Seen | null = null): Promise<Entry[]> {
      if (entries.length === 0) return []
      const columns = columnsOf(entries)
      const begins = await session.once<Begin>(APPEND, appended(columns, seen))
      return underNumbers(columns, begins)
    },
  }
}

/** The verbs that only read. */
export function logReader(session: Pick<Session, "again" | "place">) {
  return {
    /** None missing, all understood; else a StoreTrouble `damaged`. */
    async entries(garden: string, after = 0): Promise<Entry[]> {
      const rows = await session.again<{ seq: number; body: string }>(ENTRIES, [plain(garden), after])
      return rows.map(({ seq, body }, index) => {
        const expected = after + index + 1
        if (seq !== expected) throw damaged(session.place, `entry ${expected} of garden ${garden} is missing`)
        const entry = readEntry(`{"seq":${seq},${body.slice(1)}`)
        if (!entry || entry.garden !== garden)
          throw damaged(session.place, `entry ${seq} of garden ${garden} cannot be read`)
        return entry
      })
    },
    async gardens(): Promise<string[]> {
      return (await session.again<{ id: string }>(GARDENS, [])).map((row) => row.id)
    },
  }
}
