import { connect as really } from "../../src/store/sqlite/connection.ts"
import { step } from "./step.ts"
import type { StepName } from "./steps.ts"

/** Stands in for `src/store/sqlite/connection.ts`: the same, with a step inside each transaction, before its commit. */
export * from "../../src/store/sqlite/connection.ts"

let inside: StepName | null = "opening in tx"

/** Names the step inside the next transaction; verbs of the store run to their end before anything else does. */
export function insideIs(name: StepName | null): void {
  inside = name
}

export const connect: typeof really = (file, journal, ballast) => {
  const connection = really(file, journal, ballast)
  return {
    ...connection,
    write: (purpose, work) =>
      connection.write(purpose, () => {
        const result = work()
        if (inside) step(inside)
        return result
      }),
  }
}
