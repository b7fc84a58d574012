import type { Frame } from "../frames.ts"
import type { Proposal, Scene } from "../scene.ts"
import { control } from "./control.ts"
import { fate } from "./fate.ts"
import { measure } from "./measure.ts"
import { observe } from "./observe.ts"
import { bare, notYet, short } from "./short.ts"
import { skip } from "./skip.ts"
import { instead, promise, snooze } from "./snooze.ts"
import { stop } from "./stop.ts"
import { cropIn, want } from "./want.ts"
import { tops, work } from "./work.ts"

/** Looks at one clause of a text and says what it comes to; null: not mine. */
export type Proposer = (frames: readonly Frame[], index: number, scene: Scene) => Proposal | null

/**
 * Everyone who reads a clause, in order: the first that claims it has it. The way out comes first; commands before work,
 * since "skip watering" holds both; wishes before promises; what has no head of its own comes last.
 */
export const PROPOSERS: readonly Proposer[] = [
  stop,
  control,
  skip,
  snooze,
  want,
  promise,
  work,
  tops,
  measure,
  fate,
  observe,
  cropIn,
  instead,
  notYet,
  short,
  bare,
]
