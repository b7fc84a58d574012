import type { Desk } from "./bot/desk.ts"
import { type House, setHold } from "./bot/house.ts"
import type { Worker } from "./bot/needs.ts"
import type { RunningBot, World } from "./cli/command.ts"
import { StoreTrouble } from "./store/trouble.ts"
import { instantText } from "./values/instant.ts"
import type { Health } from "./web/needs.ts"
import { startClosedWeb } from "./web/server.ts"

/** Must somebody look at the store before anything is done? A new start would find the same. */
export function needsOwner(error: unknown): error is StoreTrouble {
  return error instanceof StoreTrouble && error.code === "damaged"
}

/**
 * The bot of a house without gardens, over a store that does not hold what was written (failure S13): it stays up, sends nothing, takes nothing, and
 * `/health` says why and how to go on. An end would only be started again, for ever.
 */
export async function openHeld(world: World, bare: House, trouble: StoreTrouble): Promise<RunningBot> {
  const { settings, clock } = world
  const house: House = { ...bare, text: null, mail: null }
  const reason = trouble.message
  setHold(house, reason)
  const look = async () => {
    house.memory.lastTick = clock.now()
  }
  const refuse = () => Promise.reject(trouble)
  const desk: Desk = { tick: look, keep: refuse, take: refuse, wake: () => {}, rest: async () => {} }
  const worker: Worker = { beat: look, minute: look, do: async () => {} }
  const health = async (): Promise<Health> => {
    const { lastTick } = house.memory
    const tick = lastTick === null ? null : instantText(lastTick)
    return { ok: false, lastTick: tick, store: reason, hold: reason, queue: null, errors: {}, gardens: 0 }
  }
  const { host } = settings
  const web = await startClosedWeb({ host, port: settings.port, health }).catch((error) => {
    if ((error as NodeJS.ErrnoException).code !== "EADDRINUSE" || settings.portNamed) throw error
    return startClosedWeb({ host, port: 0, health })
  })
  return {
    house,
    desk,
    worker,
    clock,
    season: null,
    channels: "Nothing is sent and nothing is taken.",
    notices: [reason],
    broken: new Promise(() => {}),
    async close() {
      await web.close()
      await house.store.close()
    },
  }
}
