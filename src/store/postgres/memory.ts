import { plain, type Session, type Statement } from "./session.ts"

const RECALL: Statement = { name: "recall", text: "select value from ryebell.memory where name = $1" }
const REMEMBER: Statement = {
  name: "remember",
  text: `insert into ryebell.memory as m (name, value) values ($1, $2)
         on conflict (name) do update set value = excluded.value where m.value <> excluded.value`,
}
const TALLY: Statement = {
  name: "tally",
  text: `insert into ryebell.memory as m (name, value) values ($1, to_json($2::bigint::text)::text)
         on conflict (name) do update set value = to_json(((m.value::json #>> '{}')::bigint + $2::bigint)::text)::text
         returning (value::json #>> '{}')::bigint as count`,
}
// Reminders are counted where they are few; of very many the server's own estimate is told, which costs nothing.
const DEPTH: Statement = {
  name: "depth",
  text: `
    select (select count(*) from ryebell.outgoing where state = 'waiting') +
           (select count(*) from ryebell.outgoing where state = 'sending') as outgoing,
           (select count(*) from ryebell.incoming where not applied) as incoming,
           (select case when c.reltuples > 100000 then c.reltuples::bigint
                        else (select count(*) from ryebell.reminder) end
              from pg_class c where c.oid = 'ryebell.reminder'::regclass) as reminders`,
}

/** Small things by name, and how much waits. Values are kept as JSON writes them: it has a form for every character. */
export function memoryVerbs(session: Session) {
  return {
    ...memoryReader(session),
    async remember(name: string, value: string): Promise<void> {
      await session.again(REMEMBER, [plain(name), JSON.stringify(value)])
    },
    /** Not tried again where the connection was lost under it: a text counted twice would be one too few. */
    async tally(name: string, more: number): Promise<number> {
      const [row] = await session.once<{ count: number }>(TALLY, [plain(name), more])
      return row?.count ?? 0
    },
    async depth(): Promise<{ outgoing: number; incoming: number; reminders: number }> {
      const [row] = await session.again<{ outgoing: number; incoming: number; reminders: number }>(DEPTH, [])
      return { outgoing: row?.outgoing ?? 0, incoming: row?.incoming ?? 0, reminders: row?.reminders ?? 0 }
    },
  }
}

export function memoryReader(session: Pick<Session, "again">) {
  return {
    async recall(name: string): Promise<string | null> {
      const [row] = await session.again<{ value: string }>(RECALL, [plain(name)])
      return row ? (JSON.parse(row.value) as string) : null
    },
  }
}
