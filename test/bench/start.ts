import { spawn, spawnSync } from "node:child_process"
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs"
import { loadavg, tmpdir } from "node:os"
import { join } from "node:path"

/**
 * How long the bot takes from its start to the first text of its first tick, and how much memory it holds after a year: each
 * beside a bare process of the same Node, in turns, so that what else the machine does weighs on both. `ROUNDS=10` starts.
 */
const ROUNDS = Number(process.env.ROUNDS ?? "10")
/** Starts without what Node kept of earlier ones: as after an installation. */
const COLD_ROUNDS = 3
const START = new URL("../../src/start.mjs", import.meta.url).pathname
const YEARS = new URL("./years.ts", import.meta.url).href
/** At this moment the example garden has something to say. */
const MOMENT = "2026-05-11T14:00:00Z"
/** Steps of the clock by which Linux counts the time of a process. */
const TICK_MS = 10

type Taken = { ms: number; coreMs: number | null }

/** Milliseconds on a core so far, where the machine tells: they hardly depend on what else runs. */
function coreMs(pid: number | undefined): number | null {
  const file = `/proc/${pid}/stat`
  if (!existsSync(file)) return null
  const fields = (readFileSync(file, "utf8").split(") ")[1] ?? "").split(" ")
  return (Number(fields[11]) + Number(fields[12])) * TICK_MS
}

/** Starts a program and stops the watch at the first words that fit. */
function untilItSays(args: string[], words: RegExp, env: Record<string, string> = {}): Promise<Taken> {
  return new Promise((resolve, reject) => {
    const from = performance.now()
    const child = spawn(process.execPath, args, {
      env: { PATH: process.env.PATH, ...env },
      stdio: ["pipe", "pipe", "inherit"],
    })
    let said = ""
    let taken: Taken | null = null
    child.stdout.on("data", (chunk) => {
      said += chunk
      if (taken || !words.test(said)) return
      taken = { ms: performance.now() - from, coreMs: coreMs(child.pid) }
      child.stdin.end()
      child.kill("SIGTERM")
    })
    child.on("close", () => (taken ? resolve(taken) : reject(new Error(`it ended before it said ${words}: ${said}`))))
  })
}

async function firstText(kept: string | null): Promise<Taken> {
  const folder = mkdtempSync(join(tmpdir(), "ryebell-bench-"))
  const garden = new URL("../../config/garden.yaml", import.meta.url).pathname
  const env = { RYEBELL_GARDEN: garden, RYEBELL_DATA: folder, RYEBELL_CLOCK: MOMENT, PORT: "0" }
  try {
    return await untilItSays([START, "run"], /^text to /m, kept === null ? env : { ...env, NODE_COMPILE_CACHE: kept })
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

const bare = () => untilItSays(["-e", "console.log('up'); setInterval(() => {}, 1000)"], /up/)

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] as number
}

function line(name: string, of: readonly Taken[], beside: readonly Taken[]): string {
  const ms = median(of.map((each) => each.ms))
  const core = median(of.map((each) => each.coreMs ?? Number.NaN))
  const least = Math.min(...of.map((each) => each.ms))
  const times = (ms / median(beside.map((each) => each.ms))).toFixed(1)
  return `  ${name.padEnd(36)} median ${ms.toFixed(0)} ms (least ${least.toFixed(0)}), ${core.toFixed(0)} ms on a core, ${times} times a bare process`
}

const bares: Taken[] = []
const starts: Taken[] = []
const colds: Taken[] = []
// The first one fills what Node keeps; it is none of those that count.
await firstText(null)
for (let round = 0; round < ROUNDS; round += 1) {
  bares.push(await bare())
  starts.push(await firstText(null))
  if (round >= COLD_ROUNDS) continue
  const empty = mkdtempSync(join(tmpdir(), "ryebell-bench-"))
  colds.push(await firstText(empty))
  rmSync(empty, { recursive: true, force: true })
}
console.log(line("a bare process", bares, bares))
console.log(line(`start to the first text (of ${ROUNDS})`, starts, bares))
console.log(line("the very first start on a machine", colds, bares))
console.log(`  load of the machine: ${loadavg()[0]?.toFixed(1)}`)

const held = (code: string) => {
  const args = ["--expose-gc", "--input-type=module", "-e", `${code}; gc(); console.log(process.memoryUsage.rss())`]
  return Number(spawnSync(process.execPath, args, { encoding: "utf8" }).stdout) / 1e6
}
const [nothing, year] = [
  held("0"),
  held(`const { yearsBench } = await import(${JSON.stringify(YEARS)}); await yearsBench(() => {}, 1)`),
]
console.log(
  `  memory held after a year             ${year.toFixed(0)} MB, ${(year / nothing).toFixed(1)} times the ${nothing.toFixed(0)} MB of a bare process`,
)
