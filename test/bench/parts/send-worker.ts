import { once } from "node:events"
import { openWorker } from "../../../src/bot/worker.ts"
import { openPostgres } from "../../../src/store/postgres.ts"
import { instant } from "../../../src/values/instant.ts"
import { ALONE, handbook } from "./load.ts"
import { NO_OP, officeHouse, plots } from "./office.ts"

/** One of two workers that send what waits, and with a fourth argument put it into words before: says `ready`, begins at a word on its input, ends when nothing waits any more. */
const [url, gardens, at, words] = process.argv.slice(2) as [string, string, string, string?]
const store = await openPostgres(url)
const now = instant(at)
const house = officeHouse({ ...store }, plots(Number(gardens)), { now: () => now }, words ? handbook : null)
let sent = 0
house.text = {
  ...NO_OP,
  async send() {
    sent += 1
    return { is: "sent", carrierId: `SM${sent}` }
  },
}
const worker = openWorker(house)
console.log("ready")
await once(process.stdin, "data")
if (words) await worker.do({ kind: "deliver", lane: 0 }, ALONE)
await worker.do({ kind: "send", lane: 0 }, ALONE)
console.log(`sent ${sent}`)
await store.close()
process.exit(0)
