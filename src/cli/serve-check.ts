import type { Command } from "./command.ts"
import { readOptions } from "./options.ts"

/** A bot that takes longer to answer is not well. */
const PATIENCE_MS = 5000

export const serveCheck: Command = {
  name: "serve-check",
  summary: "is the running bot healthy",
  usage: `usage: ryebell serve-check

Asks the running bot at HOST and PORT for its health. Exit status 0: healthy; 1: not healthy, or nobody answers.`,
  async run(args, world) {
    readOptions(args, {})
    const { host, port } = world.settings
    const name = host.includes(":") ? `[${host}]` : host === "0.0.0.0" ? "127.0.0.1" : host
    const address = `http://${name}:${port}/health`
    try {
      const answer = await fetch(address, { signal: AbortSignal.timeout(PATIENCE_MS) })
      const health = (await answer.json()) as { ok?: boolean; hold?: string | null }
      world.out(JSON.stringify(health))
      if (health.ok === true) return 0
      world.err(`The bot at ${address} is not healthy${health.hold ? `: ${health.hold}` : ""}.`)
    } catch {
      world.err(`Nobody answers at ${address}. Is the bot running there? HOST and PORT say where to ask.`)
    }
    return 1
  },
}
