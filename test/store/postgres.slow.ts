import { afterAll, beforeAll, describe } from "vitest"
import type { Store } from "../../src/bot/needs.ts"
import { openStore } from "../../src/store/open.ts"
import { type Instant, instantText } from "../../src/values/instant.ts"
import { storeContract } from "../contracts/store.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"

describe.skipIf(WITHOUT_POSTGRES)(WITHOUT_POSTGRES ?? "on a real server", () => {
  let server: PostgresServer
  beforeAll(async () => {
    server = await startPostgres()
  })
  afterAll(() => server?.remove())

  storeContract("in PostgreSQL", { restart: true, share: true }, async () => {
    const database = await server.create()
    const url = server.url(database)
    const following = clockOf(server, database)
    const open = async () => following(await openStore({ folder: null, url }))
    let store = await open()
    return {
      store,
      restart: async () => {
        await store.close()
        store = await open()
        return store
      },
      second: open,
      remove: async () => {
        await store.close()
        await server.drop(database)
      },
    }
  })
})

/**
 * Leases end by the database's clock and not by the caller's: here that clock is set to what the contract's caller says
 * the time is, so that leases end without waiting.
 */
function clockOf(server: PostgresServer, database: string): (store: Store) => Store {
  let stands: Instant | null = null
  let turn: Promise<unknown> = Promise.resolve()
  const at = <T>(now: Instant, work: () => Promise<T>): Promise<T> => {
    const set = turn.then(async () => {
      if (stands === now) return
      stands = now
      await server.run(
        database,
        `create or replace function ryebell.clock() returns timestamptz language sql stable
         as 'select timestamptz ''${instantText(now)}'''`,
      )
    })
    turn = set.catch(() => {})
    return set.then(work)
  }
  return (store) => ({
    ...store,
    claimIncoming: (now, leaseMs) => at(now, () => store.claimIncoming(now, leaseMs)),
    claimGardens: (now, leaseMs, most) => at(now, () => store.claimGardens(now, leaseMs, most)),
    claimPerson: (now, leaseMs) => at(now, () => store.claimPerson(now, leaseMs)),
    claimOutgoing: (now, leaseMs) => at(now, () => store.claimOutgoing(now, leaseMs)),
    unsettledOutgoing: (now) => at(now, () => store.unsettledOutgoing(now)),
  })
}
