import type { Frame } from "./frames.ts"
import type { Proposal } from "./scene.ts"

/** What each clause came to, in order. */
export type Outcome = { frame: Frame; proposal: Proposal; claimed: boolean; absorbed?: true }
