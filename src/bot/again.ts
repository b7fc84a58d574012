import { LogMovedOn } from "./needs.ts"

/** A log moves on by what people say: nobody says so much that a few fresh looks would not do. */
const MOST_TRIES = 5

/** Does work that looks at a garden and decides upon what it sees; where the log moved on meanwhile, it looks again. */
export async function untilLogStands<T>(work: () => Promise<T>): Promise<T> {
  for (let tries = 1; ; tries += 1) {
    try {
      return await work()
    } catch (error) {
      if (!(error instanceof LogMovedOn) || tries >= MOST_TRIES) throw error
    }
  }
}
