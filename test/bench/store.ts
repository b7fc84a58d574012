import { closeSync, fdatasyncSync, mkdtempSync, openSync, rmSync, writeSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { logLine, numbered } from "../../src/garden/read-log.ts"
import { openStore } from "../../src/store/open.ts"
import { LEASE, nudge, plus, reply, START } from "../store/samples.ts"

/**
 * What the store costs beside the least work that could do the job: one line written to a plain file and forced to the
 * disk. Ratios carry over to another machine, times do not, and both move with what else the machine does.
 */
export async function storeBench(say: (line: string) => void): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "ryebell-bench-"))
  try {
    say("durable log, entries of about 300 bytes")
    const words =
      "cut the south bed this morning before the dew was off, it stood at 90 cm and the vetch was half in flower"
    const entry = reply(`${words}, ${"and left it lying ".repeat(2)}`)
    const line = `${logLine(numbered(entry, 1))}\n`
    const store = await openStore({ folder: join(folder, "log") })
    const fd = openSync(join(folder, "plain.jsonl"), "a")
    // In turns, so that both meet the same moods of the disk.
    const plain = { ms: 0, n: 0 }
    const kept = { ms: 0, n: 0 }
    for (let round = 0; round < 20; round += 1) {
      plain.ms += await took(() => repeat(100, () => syncedLine(fd, line)))
      kept.ms += await took(() => repeat(100, () => store.append([entry])))
      plain.n += 100
      kept.n += 100
    }
    say(`  plain file + fdatasync, one at a time  ${rate(plain)}/s`)
    say(`  store, one at a time                   ${rate(kept)}/s   ratio ${ratio(kept, plain)}`)
    const plainBatch = { ms: 0, n: 0 }
    const keptBatch = { ms: 0, n: 0 }
    const batch = Array.from({ length: 100 }, () => entry)
    for (let round = 0; round < 20; round += 1) {
      plainBatch.ms += await took(() => syncedLine(fd, line.repeat(100)))
      keptBatch.ms += await took(() => store.append(batch))
      plainBatch.n += 100
      keptBatch.n += 100
    }
    closeSync(fd)
    say(`  plain file + fdatasync, 100 at a time  ${rate(plainBatch)}/s`)
    say(`  store, 100 in a transaction            ${rate(keptBatch)}/s   ratio ${ratio(keptBatch, plainBatch)}`)
    const read = { ms: await took(() => store.entries("long-acre")), n: kept.n + keptBatch.n }
    say(`  read back, checked and understood      ${rate(read)}/s`)
    await store.close()
    say(
      `  start on ${read.n} entries, looked through  ${(await took(async () => (await openStore({ folder: join(folder, "log") })).close())).toFixed(0)} ms`,
    )

    say("an idle tick: nobody due, nothing to send")
    const idle: { rows: number; ms: number; n: number }[] = []
    for (const rows of [1_000, 100_000]) {
      const waiting = await openStore({ folder: join(folder, `idle-${rows}`) })
      await waiting.placeReminders(
        "long-acre",
        Array.from({ length: rows }, (_, i) => ({
          id: `south:2025-09-20:cut:${i}`,
          person: `p${i % 500}`,
          speaksAt: plus(60 + i),
        })),
      )
      await waiting.queue(
        Array.from({ length: rows / 10 }, (_, i) => nudge(`k${i}`, { notBefore: plus(60 + i), told: [] })),
      )
      const tick = async () => {
        await waiting.claimPerson(START, LEASE)
        await waiting.claimOutgoing(START, LEASE)
        await waiting.claimIncoming(START, LEASE)
      }
      await repeat(200, tick)
      const n = 2000
      const ms = await took(() => repeat(n, tick))
      idle.push({ rows, ms, n })
      say(`  ${String(rows).padStart(7)} future reminders  ${((ms * 1000) / n).toFixed(1)} microseconds`)
      const place = await took(() =>
        waiting.placeReminders("allotment", [{ id: "sow", person: "zoe", speaksAt: plus(99) }]),
      )
      say(`          one reminder placed beside them  ${place.toFixed(2)} ms`)
      await waiting.close()
    }
    const [few, many] = idle as [(typeof idle)[number], (typeof idle)[number]]
    say(`  ratio of 100,000 to 1,000 rows          ${(many.ms / few.ms).toFixed(2)}`)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

type Measured = { ms: number; n: number }

function syncedLine(fd: number, text: string): void {
  writeSync(fd, text)
  fdatasyncSync(fd)
}

async function repeat(n: number, work: () => unknown): Promise<void> {
  for (let i = 0; i < n; i += 1) await work()
}

async function took(work: () => unknown): Promise<number> {
  const began = performance.now()
  await work()
  return performance.now() - began
}

function rate({ ms, n }: Measured): string {
  return Math.round((n * 1000) / ms)
    .toString()
    .padStart(7)
}

function ratio(a: Measured, b: Measured): string {
  return (a.n / a.ms / (b.n / b.ms)).toFixed(2)
}

if (import.meta.main) await storeBench((line) => console.log(line))
