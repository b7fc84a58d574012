import { writeSync } from "node:fs"
import { openStore } from "../../src/store/open.ts"
import { StoreTrouble } from "../../src/store/trouble.ts"
import { incoming, LEASE, nudge, plus, reply, SENT, sent } from "./samples.ts"

/**
 * A process whose disk fails: `node fault-writer.ts FOLDER ROUNDS` writes some things and says what was acknowledged, as
 * `writer.ts` does. At a trouble of the store it says `trouble CODE`, tries once more (`then CODE`), and ends with status 1.
 */
const [folder, rounds] = process.argv.slice(2)
if (!folder || !rounds) throw new Error("usage: fault-writer.ts FOLDER ROUNDS")
const say = (line: string) => writeSync(1, `${line}\n`)

let store: Awaited<ReturnType<typeof openStore>> | null = null
try {
  store = await openStore({ folder })
  for (let i = 0; i < Number(rounds); i += 1) {
    // Long enough to need several pages, so that a write can be torn in the middle of an entry.
    await store.append([reply(`one ${i}`), reply(`long ${i} ${"x".repeat(6000)}`)])
    say(`entry one ${i}`)
    say(`entry long ${i} ${"x".repeat(6000)}`)
    await store.keepIncoming(incoming(`SM${i}`))
    say(`incoming SM${i}`)
    await store.queue([nudge(`k${i}`, { notBefore: plus(i) })])
    say(`outgoing k${i} waiting`)
    const message = await store.claimOutgoing(plus(i), LEASE)
    if (!message) throw new Error("nothing was waiting")
    say(`outgoing ${message.key} sending`)
    await store.settleOutgoing(message.key, message.attempts, SENT, [sent(`sent ${message.key}`)])
    say(`outgoing ${message.key} sent`)
    say(`entry sent ${message.key}`)
  }
  await store.close()
} catch (error) {
  if (!(error instanceof StoreTrouble)) throw error
  say(`trouble ${error.code}`)
  try {
    await store?.append([reply("after the trouble")])
    if (store) say("then went on")
  } catch (again) {
    say(`then ${again instanceof StoreTrouble ? again.code : String(again)}`)
  }
  process.exit(1)
}
