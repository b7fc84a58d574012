import type { Day } from "../values/day.ts"
import { type Direction, type SaidDay, settleDay } from "./days.ts"
import type { Frame } from "./frames.ts"
import { endsWith } from "./says.ts"
import type { Scene } from "./scene.ts"

/** The day a clause is of: a day, none said, or one that must be asked for. */
export type When = { day: Day } | { unclear: true }

/** Days said in a frame, or in a neighbour that speaks for it too; null where none is said. */
export function saidDays(frames: readonly Frame[], index: number, share: "both" | "before"): readonly SaidDay[] | null {
  const frame = frames[index] as Frame
  const own = ownDays(frame)
  if (own.length > 0) return own
  // "Yesterday I cut south and watered kitchen": a day before its head speaks for what follows in the sentence.
  for (let i = index - 1; i >= 0; i -= 1) {
    const before = frames[i] as Frame
    if (before.sentence !== frame.sentence) break
    const days = ownDays(before)
    if (days.length === 0) continue
    const leading = before.days.every((day) => day.at < before.headAt)
    if (leading || frame.then) return days
    break
  }
  if (share === "before") return null
  // "cut south and watered kitchen yesterday"
  for (let i = index + 1; i < frames.length; i += 1) {
    const after = frames[i] as Frame
    if (after.sentence !== frame.sentence || (after.opener !== "and" && !after.then) || (!after.work && !after.then))
      break
    const days = ownDays(after)
    if (days.length > 0) return days
  }
  return null
}

function ownDays(frame: Frame): SaidDay[] {
  // A weekday that names a bed, before the head or behind "the", is the bed.
  const isBed = (at: number): boolean =>
    frame.items[at]?.bed !== undefined && (at < frame.headAt || endsWith(frame.items[at - 1], "article"))
  return frame.days.filter(({ at }) => !isBed(at)).map(({ day }) => day)
}

/** The one day meant, today where none was said. Two different days, or a day on the wrong side of today, are unclear. */
export function when(days: readonly SaidDay[] | null, scene: Scene, direction: Direction, unsaid: Day): When {
  if (days === null || days.length === 0) return { day: unsaid }
  const settled = new Set<Day>()
  for (const each of days) {
    const day = settleDay(each, scene.context.now.day, direction)
    if (day === null) return assumedDay(scene, direction)
    settled.add(day)
  }
  return settled.size === 1 ? { day: [...settled][0] as Day } : assumedDay(scene, direction)
}

/** The day that was the answer to our question, where that was the question. */
function assumedDay({ assumed, context }: Scene, direction: Direction): When {
  const [said] = assumed?.which === "day" ? (assumed.days ?? []) : []
  const day = said ? settleDay(said, assumed?.today ?? context.now.day, direction) : null
  return day ? { day } : { unclear: true }
}
