import type { ActOf } from "../../garden/acts.ts"
import type { Frame } from "../frames.ts"
import { isOpening } from "../questions.ts"
import { hasWord, startsWith } from "../says.ts"
import { A_NOTE, type Proposal, type Scene } from "../scene.ts"
import { targetsOf } from "../targets.ts"
import { bedsWith } from "./settle-work.ts"

type About = ActOf<"tell">["about"]

/** Answers a question about the garden; a question about anything else is a remark. */
export function tell(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  const about = aboutOf(frame)
  if (about === null) return null
  const targets = targetsOf(frame, scene, "state")
  const garden = !targets.none || frame.kind !== null || frame.heads.length > 0 || frame.named.length > 0
  // "what did Lena do yesterday": the one word nobody knows is a person.
  const person = about === "log" && frame.stray.length === 1 && frame.items.some((item) => item.senses.has("tail"))
  if (isOfOthers(frame) && !garden && !person) return A_NOTE
  if (frame.stray.length > 1 && targets.none) return A_NOTE
  const bed = targets.beds.length === 1 ? (targets.beds[0] as string) : onlyBedWith(targets.species, scene)
  const n =
    targets.numbers.length === 1 && scene.context.open.some((each) => each.n === targets.numbers[0])
      ? (targets.numbers[0] as number)
      : null
  return { acts: [{ act: "tell", about, bed, n }], ask: null, note: false }
}

function onlyBedWith(species: readonly (readonly string[])[], scene: Scene): string | null {
  if (species.length !== 1 || scene.context.beds.length === 1) return null
  const beds = bedsWith(scene, species[0] as readonly string[])
  return beds.length === 1 ? (beds[0] as string) : null
}

/** What is asked for: the first phrase that says so; a question that only holds work asks what was done. */
function aboutOf(frame: Frame): About | null {
  for (const item of frame.items) {
    // "when did I cut it": the day it was done, not the day to come.
    if (
      item.senses.has("tell:next") &&
      item.to - item.from === 1 &&
      frame.items.some((each) => each.senses.has("tell:log"))
    )
      continue
    for (const about of ["why", "how-much", "log", "next", "status"] as const) {
      if (item.senses.has(`tell:${about}`)) return about
    }
  }
  const first = frame.items.find((item) => !isOpening(item))
  const settled = frame.work?.forms.has("did") === true && frame.work.work !== "done"
  if (settled && (frame.before("must") || frame.before("future"))) return "next"
  if (settled && startsWith(first, "fact-question")) return "log"
  // "did Jo water the pond"
  if (frame.work && frame.work.work !== "done" && startsWith(first, "did") && frame.stray.length <= 1) return "log"
  if (frame.items.some((item) => hasWord(item, "ready")) && frame.named.length > 0) return "next"
  // "south?"
  if (
    frame.asked &&
    frame.heads.length === 0 &&
    frame.stray.length === 0 &&
    frame.named.some(({ item }) => item.bed) &&
    frame.items.length <= frame.named.length + 1
  )
    return "status"
  return null
}

/** Words that are of nothing a garden has. */
function isOfOthers(frame: Frame): boolean {
  return frame.stray.length > 0
}
