import { writeSync } from "node:fs"
import { openStore } from "../../src/store/open.ts"
import { incoming, LEASE, nudge, plus, reply, SENT, START, sent } from "./samples.ts"

/**
 * A process to be killed: `node writer.ts FOLDER ROUND` writes into the store without end and says on standard output what
 * the store has acknowledged, a line for each: `entry TEXT`, `incoming ID`, `outgoing KEY STATE`.
 */
const [folder, round] = process.argv.slice(2)
if (!folder || !round) throw new Error("usage: writer.ts FOLDER ROUND")

const store = await openStore({ folder })
const say = (line: string) => writeSync(1, `${line}\n`)
say("ready")
for (let i = 0; ; i += 1) {
  const id = `${round}.${i}`
  await store.append([reply(`one ${id}`), reply(`two ${id}`), reply(`other ${id}`, "allotment")])
  for (const text of [`one ${id}`, `two ${id}`, `other ${id}`]) say(`entry ${text}`)
  await store.keepIncoming(incoming(`SM${id}`))
  say(`incoming SM${id}`)
  await store.queue([nudge(`k${id}`, { notBefore: plus(i) })])
  say(`outgoing k${id} waiting`)
  const message = await store.claimOutgoing(plus(i), LEASE)
  if (message) {
    say(`outgoing ${message.key} sending`)
    await store.settleOutgoing(message.key, message.attempts, SENT, [sent(`sent ${message.key}`)])
    say(`outgoing ${message.key} sent`)
    say(`entry sent ${message.key}`)
  }
  const kept = await store.claimIncoming(START, LEASE)
  if (kept) {
    await store.settleIncoming(kept.id, [reply(`applied ${kept.id}`)], [])
    say(`entry applied ${kept.id}`)
  }
}
