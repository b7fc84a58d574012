import type { House } from "./house.ts"
import type { Clock, Incoming } from "./needs.ts"
import { applyIncoming, receive } from "./receive.ts"
import { sendDue, sendNext } from "./send.ts"
import { tick } from "./tick.ts"

/** Where everything that happens to a running bot comes in, one thing after the other. */
export type Desk = {
  /** A minute's work. */
  tick(): Promise<void>
  /** Resolves once a message is kept for good; it is applied and answered soon after. */
  keep(incoming: Incoming): Promise<"new" | "repeat">
  /** Resolves once a message is kept, applied and answered. */
  take(incoming: Incoming): Promise<void>
  /** Has what waits sent soon, without waiting for the next tick. */
  wake(): void
  /** Resolves when nothing is under way any more. */
  rest(): Promise<void>
}

/**
 * Opens the desk of a house. Messages are kept at once, whatever is under way; ticks and the applying of messages
 * follow each other, so that no two of them look at the same plan and both move it. `one of many`: other processes work on
 * the same store, and whatever else waits to be sent is theirs; only as many messages leave at once as could be answers.
 */
export function openDesk(house: House, clock: Clock, is: "alone" | "one of many" = "alone"): Desk {
  let last: Promise<void> = Promise.resolve()
  const inTurn = (work: () => Promise<void>): Promise<void> => {
    const turn = last.then(work)
    last = turn.catch(() => {})
    return turn
  }
  const send = async (most: number) => {
    if (house.hold.reason !== null) return
    if (is === "alone") await sendDue(house, clock.now())
    else for (let i = 0; i < most; i += 1) if ((await sendNext(house, clock.now())) === null) return
  }
  const apply = () =>
    inTurn(async () => {
      await send(await applyIncoming(house, clock.now()))
    })
  return {
    tick: () => inTurn(() => tick(house, clock.now())),
    async keep(incoming) {
      const is = await receive(house, incoming)
      if (is === "new") apply().catch((error) => house.log.error({ error }, "kept messages wait for the next tick"))
      return is
    },
    async take(incoming) {
      if ((await receive(house, incoming)) === "new") await apply()
    },
    wake: () =>
      void inTurn(() => send(1)).catch((error) => house.log.error({ error }, "what waits leaves with the next tick")),
    rest: () => last,
  }
}
