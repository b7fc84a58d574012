import { spawn } from "node:child_process"
import { openStore } from "../../src/store/open.ts"
import { GARDEN, incoming } from "./samples.ts"

const WRITER = new URL("./writer.ts", import.meta.url).pathname

/** Numbers from 0 to 1 that are the same for the same seed. Source: mulberry32 by T. Ettinger, from memory. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

/** What the killed processes were told is safe, and what of it is not there afterwards. */
export type Verdict = { acknowledged: number; missing: string[]; doubled: string[] }

/**
 * Kills a writing process again and again with SIGKILL at seeded moments, each on the data that the last one left, then
 * opens the store (which looks the whole of it through) and holds it against everything that was acknowledged.
 */
export async function killAgainAndAgain(folder: string, kills: number, seed: number): Promise<Verdict> {
  const random = seeded(seed)
  const lines: string[] = []
  for (let round = 0; round < kills; round += 1) {
    // Every fifth one dies while it starts, the others after they were told so and so often that something is safe.
    const when = round % 5 === 4 ? { startMs: random() * 400 } : { lines: 1 + random() * 150 }
    lines.push(...(await writeUntilKilled(folder, round, when)))
  }
  return judge(folder, lines)
}

/** When a writer is killed: so long after its start, or when it has said so many lines (and goes on writing meanwhile). */
export type When = { startMs: number } | { lines: number }

/** Runs one writer and kills it; its whole lines of output. */
export function writeUntilKilled(
  folder: string,
  round: number,
  when: When,
  env: Record<string, string> = {},
): Promise<string[]> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [WRITER, folder, String(round)], {
      stdio: ["ignore", "pipe", "pipe"],
      env: { ...process.env, ...env },
    })
    let out = ""
    let err = ""
    if ("startMs" in when) setTimeout(() => child.kill("SIGKILL"), when.startMs)
    child.stdout.on("data", (chunk) => {
      out += chunk
      if ("lines" in when && out.split("\n").length > when.lines) child.kill("SIGKILL")
    })
    child.stderr.on("data", (chunk) => {
      err += chunk
    })
    child.on("error", reject)
    child.on("close", (code, signal) => {
      if (signal !== "SIGKILL") return reject(new Error(`the writer ended by itself (${code}): ${err}`))
      const whole = out.slice(0, Math.max(0, out.lastIndexOf("\n")))
      resolve(whole.split("\n").filter((line) => line !== "" && line !== "ready"))
    })
  })
}

/** Opens a store and holds it against what it was said to have acknowledged. */
export async function judge(folder: string, lines: string[]): Promise<Verdict> {
  const store = await openStore({ folder })
  const texts = [...(await store.entries(GARDEN)), ...(await store.entries("allotment"))].map((entry) =>
    "text" in entry ? String(entry.text) : entry.kind,
  )
  const there = new Set(texts)
  const missing: string[] = []
  for (const line of lines) {
    const [what, ...rest] = line.split(" ")
    const said = rest.join(" ")
    if (what === "entry" && !there.has(said)) missing.push(line)
    if (what === "incoming" && (await store.keepIncoming(incoming(said))) === "new") missing.push(line)
    if (what === "outgoing") {
      const [key, state] = rest as [string, string]
      const order = ["waiting", "sending", "sent"]
      if (order.indexOf((await store.outgoing(key))?.state ?? "") < order.indexOf(state)) missing.push(line)
    }
  }
  await store.close()
  const doubled = texts.filter((text, i) => texts.indexOf(text) !== i)
  return { acknowledged: lines.length, missing, doubled }
}
