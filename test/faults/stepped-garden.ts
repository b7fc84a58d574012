import { readGarden as really } from "../../src/garden/read.ts"
import { step } from "./step.ts"

/** Stands in for `src/garden/read.ts`: a garden file that was read, and is not on the shelf yet. */
export * from "../../src/garden/read.ts"

export const readGarden: typeof really = (...args) => {
  const read = really(...args)
  step("reload parsed")
  return read
}
