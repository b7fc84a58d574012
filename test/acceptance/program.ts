import { type ChildProcessWithoutNullStreams, spawn } from "node:child_process"
import { mkdtempSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"

/** The program as it stands in this checkout. */
const HERE = new URL("../../src/start.mjs", import.meta.url).pathname

/** Settings of this machine that a test must not inherit. */
const OURS = /^(RYEBELL|TWILIO|SMTP|IMAP|DKIM|WEATHER|MAIL|DATABASE_URL|PUBLIC_URL|HOST|PORT|LOG_LEVEL|SECRET_KEY)/

function settings(env: Record<string, string>): Record<string, string> {
  const own = Object.entries(process.env).filter(([name]) => !OURS.test(name)) as [string, string][]
  return { ...Object.fromEntries(own), PORT: "0", ...env }
}

/** A folder for one test; it stays where the test fails, so that one can look. */
export function freshFolder(name: string): string {
  return mkdtempSync(join(tmpdir(), `ryebell-${name}-`))
}

export type Ran = { status: number | null; out: string; err: string }

/** Runs one command to its end. */
export function command(
  args: string[],
  options: { env?: Record<string, string>; input?: string; cwd?: string; program?: string } = {},
): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [options.program ?? HERE, ...args], {
      env: settings(options.env ?? {}),
      ...(options.cwd ? { cwd: options.cwd } : {}),
    })
    let [out, err] = ["", ""]
    child.stdout.on("data", (chunk) => {
      out += chunk
    })
    child.stderr.on("data", (chunk) => {
      err += chunk
    })
    child.on("error", reject)
    child.on("close", (status) => resolve({ status, out, err }))
    child.stdin.end(options.input ?? "")
  })
}

/** The running bot, driven by what a person types and reads. */
export type Bot = {
  child: ChildProcessWithoutNullStreams
  text(): string
  type(line: string): void
  /** Resolves when the output holds the words; rejects after `ms` or when the program ends before. */
  says(words: string | RegExp, ms?: number): Promise<void>
  stop(): Promise<void>
  /** kill -9, and waits until it is gone. */
  kill(): Promise<void>
}

/** `program`: another copy of it than that of this checkout. */
export function bot(args: string[], env: Record<string, string>, program = HERE): Bot {
  const child = spawn(process.execPath, [program, ...args], { env: settings(env) })
  let text = ""
  const listeners = new Set<() => void>()
  const heard = (chunk: Buffer) => {
    text += chunk
    for (const listener of listeners) listener()
  }
  child.stdout.on("data", heard)
  child.stderr.on("data", heard)
  child.stdin.on("error", () => {})
  const gone = new Promise<void>((resolve) => child.on("close", () => resolve()))
  void gone.then(() => {
    for (const listener of listeners) listener()
  })
  return {
    child,
    text: () => text,
    type: (line) => void child.stdin.write(`${line}\n`),
    says: (words, ms = 60_000) =>
      new Promise((resolve, reject) => {
        const timer = setTimeout(() => done(new Error(`waited ${ms} ms for ${words}; the bot said:\n${text}`)), ms)
        const done = (error?: Error) => {
          clearTimeout(timer)
          listeners.delete(look)
          if (error) reject(error)
          else resolve()
        }
        const look = () => {
          if (typeof words === "string" ? text.includes(words) : words.test(text)) done()
          else if (child.exitCode !== null || child.signalCode !== null)
            done(new Error(`the bot ended before it said ${words}:\n${text}`))
        }
        listeners.add(look)
        look()
      }),
    async stop() {
      child.kill("SIGTERM")
      await gone
    },
    async kill() {
      child.kill("SIGKILL")
      await gone
    },
  }
}
