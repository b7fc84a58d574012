import { once } from "node:events"
import { PgBoss } from "pg-boss"

/** One of two processes over the bare job engine: fetches fifty at a time, does nothing, says that they are done. */
const [url] = process.argv.slice(2) as [string]
const boss = new PgBoss({ connectionString: url, schema: "bare", max: 4 })
boss.on("error", (error) => console.error(error))
await boss.start()
console.log("ready")
await once(process.stdin, "data")
let done = 0
const lane = async () => {
  for (;;) {
    const jobs = await boss.fetch("text", { batchSize: 50 })
    if (jobs.length === 0) return
    await boss.complete(
      "text",
      jobs.map((job) => job.id),
    )
    done += jobs.length
  }
}
await Promise.all([lane(), lane()])
console.log(`sent ${done}`)
await boss.stop({ graceful: false })
process.exit(0)
