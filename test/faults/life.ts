import { type ChildProcess, fork } from "node:child_process"
import { tmpdir } from "node:os"
import { join } from "node:path"
import type { Order } from "./child.ts"

/** The process was killed while an order was under way, or before. */
export class Died extends Error {}

/** One process of the bot, from its start to its death. */
export type Life = {
  /** Resolves with the answer; rejects with Died where the process is gone, with an Error where the order failed. */
  ask(order: Order): Promise<unknown>
  kill(): void
  /** The name of the step that struck without killing, since it was last asked. */
  struck(): string | null
  isGone(): boolean
  /** Resolves when the process is gone. */
  gone: Promise<void>
  /** All that it wrote: what an operator reads. */
  said(): string
}

const CHILD = new URL("./child.ts", import.meta.url).pathname
const PRELOAD = new URL("./preload.ts", import.meta.url).href

/** Starts a process that loads everything and waits for its first order: made ahead, a start costs no waiting. */
export function begin(plant: string | null, zone = "UTC"): Life {
  const child: ChildProcess = fork(CHILD, plant === null ? [] : [`--plant=${plant}`], {
    execArgv: ["--import", PRELOAD, "--expose-gc"],
    env: { PATH: process.env.PATH, TZ: zone, NODE_COMPILE_CACHE: join(tmpdir(), "ryebell-faults-cache") },
    stdio: ["ignore", "pipe", "pipe", "ipc"],
  })
  let said = ""
  let isGone = false
  let struck: string | null = null
  const waiting = new Map<number, { resolve: (answer: unknown) => void; reject: (error: Error) => void }>()
  let count = 0
  const hear = (chunk: Buffer) => {
    said += chunk
  }
  child.stdout?.on("data", hear)
  child.stderr?.on("data", hear)
  child.on("message", (message: { id?: number; answer?: unknown; error?: string; struck?: string }) => {
    if (message.struck !== undefined) struck = message.struck
    if (message.id === undefined) return
    const asked = waiting.get(message.id)
    waiting.delete(message.id)
    if (message.error === undefined) asked?.resolve(message.answer)
    else asked?.reject(new Error(message.error))
  })
  const gone = new Promise<void>((resolve) => {
    child.once("close", () => {
      isGone = true
      for (const { reject } of waiting.values()) reject(new Died("the process is gone"))
      waiting.clear()
      resolve()
    })
  })
  return {
    ask(order) {
      if (isGone) return Promise.reject(new Died("the process is gone"))
      count += 1
      const id = count
      return new Promise((resolve, reject) => {
        waiting.set(id, { resolve, reject })
        child.send({ id, order }, (error) => {
          // A process that dies while it is written to is gone in a moment; until then nothing is answered.
          if (error) void gone.then(() => reject(new Died("the process is gone")))
        })
      })
    },
    kill: () => void child.kill("SIGKILL"),
    struck() {
      const was = struck
      struck = null
      return was
    },
    isGone: () => isGone,
    gone,
    said: () => said,
  }
}
