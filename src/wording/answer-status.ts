import { showDay, showRange } from "../reminders/dates.ts"
import { emergenceOf } from "../reminders/emergence-range.ts"
import { around } from "../reminders/rest-over.ts"
import type { SowingPlan } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import { bestOf } from "./answer-moved.ts"

/** How a sowing stands, in a few words without a full stop. */
export function statusOf(sowing: SowingPlan, today: Day): string {
  switch (sowing.state) {
    case "planned":
      return sowing.sow ? `to be sown by about ${showDay(sowing.sow.by, today)}` : "planned"
    case "sown": {
      const green = emergenceOf(sowing)
      return green ? `sown, green ${showRange(green.early, green.late, today)}` : "sown"
    }
    case "up":
      return `up${cutPart(sowing, today)}`
    case "growing":
      return `growing${cutPart(sowing, today)}`
    case "blooming":
      return `in bloom${cutPart(sowing, today)}`
    case "cut":
    case "resting": {
      const ready = sowing.next?.ready ?? sowing.rest?.transplants
      return ready ? `resting, ready around ${around(ready, today)}` : "resting"
    }
    case "ready":
      return "ready to plant"
    case "planted":
      return "planted"
    case "ended":
      return "its cover is over"
    default:
      return sowing.state satisfies never
  }
}

function cutPart(sowing: SowingPlan, today: Day): string {
  if (sowing.cut && sowing.cut.by < today) return `, past its cutting limit of ${showDay(sowing.cut.by, today)}`
  if (sowing.cut) return `, best cut ${bestOf(sowing.cut, today)}`
  return sowing.noCut ? ", no cut needed" : ""
}
