import { loadavg } from "node:os"
import { startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"
import { drain } from "./parts/drain.ts"
import { idle } from "./parts/idle.ts"
import { morning } from "./parts/morning.ts"
import { moves } from "./parts/moves.ts"
import type { Say } from "./parts/scale.ts"

/*
 * Many gardeners on a real PostgreSQL. Every figure stands beside a limit measured in the same run; ratios carry over to
 * another machine, times do not. `SCALE=0.1` makes everything a tenth as large; `ONLY=drain,moves` runs those alone.
 */
const ONLY = process.env.ONLY?.split(",") ?? null
const PARTS = { drain, morning, moves, idle }

export async function manyBench(say: Say): Promise<void> {
  if (WITHOUT_POSTGRES) return say(WITHOUT_POSTGRES)
  const server = await startPostgres({ durable: true, settings: ["shared_buffers=512MB", "max_wal_size=4GB"] })
  try {
    for (const [name, part] of Object.entries(PARTS)) {
      if (ONLY !== null && !ONLY.includes(name)) continue
      await part(server, say)
      say(`  (in the last minute ${loadavg()[0]?.toFixed(1)} processes wanted the cores)`)
    }
  } finally {
    await server.remove()
  }
}

if (import.meta.main) await manyBench((line) => console.log(line))
