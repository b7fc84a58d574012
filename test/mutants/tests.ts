import { type ChildProcess, fork } from "node:child_process"
import type { Mutation } from "./mutations.ts"
import type { Answered, Asked, Covering } from "./session.ts"

/** A mutation that keeps its tests busy for so much longer than they take, and so many seconds more, goes round in a loop: it is noticed. */
const PATIENCE = { times: 4, more_ms: 60_000 }
/** The first run goes through all tests. */
const PROBE_MS = 3_600_000

/** The process that runs the tests; a new one where the last did not come back. */
export class Tests {
  #child: ChildProcess | null = null

  async probe(mutations: readonly Mutation[], tests: readonly string[]): Promise<Covering[]> {
    const answered = await this.#ask({ ask: "probe", mutations, tests }, PROBE_MS)
    if (answered === null || !("covering" in answered))
      throw new Error("the first run of the tests did not come to an end")
    return answered.covering
  }

  async tryOut(file: string, code: string, covering: readonly Covering[]): Promise<string | null> {
    const usual = covering.reduce((sum, { ms }) => sum + ms, 0)
    const tests = covering.map(({ test }) => test)
    const answered = await this.#ask({ ask: "try", file, code, tests }, usual * PATIENCE.times + PATIENCE.more_ms)
    return answered !== null && "killedBy" in answered ? answered.killedBy : "no end"
  }

  end(): void {
    // The group, so that a worker in an endless loop goes too.
    if (this.#child?.pid) process.kill(-this.#child.pid, "SIGKILL")
    this.#child = null
  }

  #ask(asked: Asked, patience_ms: number): Promise<Answered | null> {
    this.#child ??= fork(new URL("session.ts", import.meta.url), {
      detached: true,
      stdio: ["ignore", "ignore", "inherit", "ipc"],
    })
    const child = this.#child
    return new Promise((resolve) => {
      const done = (answered: Answered | null) => {
        clearTimeout(timer)
        child.removeAllListeners()
        if (answered === null) this.end()
        resolve(answered)
      }
      const timer = setTimeout(() => done(null), patience_ms)
      child.once("message", (answered: Answered) => done(answered))
      child.once("exit", () => {
        this.#child = null
        done(null)
      })
      child.send(asked)
    })
  }
}
