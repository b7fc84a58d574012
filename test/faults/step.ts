import type { StepName, Strike } from "./steps.ts"

/** Inside the process that is to be killed: the strike that is armed, and how often its step was passed since. */
let armed: (Strike & { left: number }) | null = null

export function arm(strike: Strike | null): void {
  armed = strike && { ...strike, left: strike.nth }
}

/** Marks a step. At the armed one, the so-and-so-many-th time, this process is gone before the next statement. */
export function step(name: StepName): void {
  if (armed?.step !== name) return
  armed.left -= 1
  if (armed.left > 0) return
  const { action } = armed
  armed = null
  if (action === "throw") {
    process.send?.({ struck: name })
    throw new Error(`a fault at the step "${name}"`)
  }
  process.kill(process.pid, "SIGKILL")
}
