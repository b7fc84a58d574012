import type { Instant } from "../../values/instant.ts"
import type { Session, Statement } from "./session.ts"

const LOOK: Statement = {
  name: "look",
  text: `
    select current_setting('synchronous_commit') as commits, current_setting('fsync') as fsync,
           current_setting('server_encoding') as encoding`,
}
const TIME: Statement = { name: "time", text: "select clock_timestamp() as time" }
// In one statement, so that a worker which is killed meanwhile has given back all or nothing.
const LEAVE: Statement = {
  name: "leave",
  text: `
    with turns as (
      update ryebell.turn set lease = null, lease_until = null, worker = null where worker = $1),
    messages_in as (
      update ryebell.incoming set lease_until = null, worker = null where worker = $1 and not applied),
    probe as (delete from ryebell.memory where name = 'probe:' || $1)
    update ryebell.outgoing set lease_until = null, worker = null where worker = $1 and state = 'sending'`,
}

/** What concerns this worker as a whole. */
export function workerVerbs(session: Session, worker: string) {
  return {
    /** What the operator should know of the server. */
    async look(): Promise<{ notices: string[] }> {
      const [found] = await session.again<{ commits: string; fsync: string; encoding: string }>(LOOK, [])
      const notices: string[] = []
      if (found?.commits === "off" || found?.fsync === "off")
        notices.push(
          `The database ${session.place} answers before the disk has what was written (fsync ${found.fsync}, synchronous_commit ${found.commits}): after a power cut replies may be lost and texts go twice. Switch both on.`,
        )
      if (found && found.encoding !== "UTF8")
        notices.push(
          `The database ${session.place} is in ${found.encoding}: make one in UTF8, or some words cannot be kept.`,
        )
      return { notices }
    },

    async time(): Promise<Instant> {
      const [row] = await session.again<{ time: Instant }>(TIME, [])
      return (row as { time: Instant }).time
    },

    /** Gives back what this worker held, so that others need not wait for its leases to end. */
    async leave(): Promise<void> {
      await session.again(LEAVE, [worker]).catch(() => {})
    },
  }
}
