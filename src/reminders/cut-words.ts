import type { Then } from "../garden/garden.ts"
import type { CutWindow } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import { rangeWidth } from "../values/range.ts"
import { cautionPart, cutCautions } from "./cautions.ts"
import { showDay, showRange } from "./dates.ts"
import { bedOfScene, type Said, type Scene } from "./kind.ts"
import { cropName, speciesName } from "./names.ts"
import { TIMING } from "./timing.ts"

/** What to do with the tops, as the end of a sentence that begins with the cut; what is turned in is cut another way. */
const TOPS: Record<Exclude<Then, "turn-in">, string> = {
  leave: "let the tops lie",
  "carry-off": "carry the tops off",
  tarp: "then cover it with a tarp",
}

/** The window opens. */
export function firstWords(scene: Scene, window: CutWindow, day: Day): Said {
  const bed = bedOfScene(scene)
  const since = day <= window.from ? "from today" : "now"
  const best = bestDays(window, day)
  return {
    text: `${bed} can be cut ${since}, ${best}${reason(scene, window)}. ${how(scene, window)}`,
    short: `${bed} can be cut ${since}, ${best}.`,
    title: `cut ${bed}, ${best}`,
    words: isBloomUnseen(scene, window, day) ? ["DONE", "SNOOZE", "NO BLOOM"] : ["DONE", "SNOOZE"],
    ...cautionPart(cutCautions(scene, window, day)),
  }
}

/** The middle of a long window. */
export function againWords(scene: Scene, window: CutWindow, day: Day): Said {
  const bed = bedOfScene(scene)
  const best = bestDays(window, day)
  return {
    text: `${bed} is still to cut, ${best}${reason(scene, window)}. ${how(scene, window)}`,
    short: `${bed} is still to cut, ${best}.`,
    title: `cut ${bed}, ${best}`,
    words: ["DONE", "SNOOZE", "SKIP"],
  }
}

/** Two days before the limit. */
export function lastWords(scene: Scene, window: CutWindow, day: Day): Said {
  const bed = bedOfScene(scene)
  const limit = showDay(window.by, day)
  return {
    text: `${bed} again: past about ${limit} ${risk(scene, window)}. ${soThen(window)}`,
    short: `${bed} again: cut it by about ${limit} if you can.`,
    title: `cut ${bed}, best by about ${limit}`,
    words: ["DONE", "SNOOZE", "SKIP"],
    ...cautionPart(cutCautions(scene, window, day)),
  }
}

/** After the limit: what can still be done, and no blame. */
export function pastWords(scene: Scene, window: CutWindow, day: Day): Said {
  const bed = bedOfScene(scene)
  const limit = showDay(window.by, day)
  const seed = window.setBy.because === "seed"
  const still = seed
    ? "Cutting still helps: carry off what has podded, so that less seed falls."
    : "Cutting still helps, and the bed can rest and be planted after."
  return {
    text: `${bed} passed its limit of ${limit} uncut, as far as I know. ${still}`,
    short: `${bed} passed its limit of ${limit}; cutting still helps.`,
    title: `cut ${bed}; its limit was ${limit}`,
    words: ["DONE", "SNOOZE", "SKIP"],
    ...cautionPart(cutCautions(scene, window, day)),
  }
}

/** `best 8-14 May` while that is ahead, then the limit alone. */
function bestDays(window: CutWindow, day: Day): string {
  if (day >= window.best || window.best >= window.by) return `best by about ${showDay(window.by, day)}`
  return `best ${showRange(window.best, window.by, day)}`
}

/** Does the limit rest on a flower that is reckoned from little and that nobody has seen? One look then moves the window. */
function isBloomUnseen(scene: Scene, window: CutWindow, day: Day): boolean {
  if (window.setBy.because !== "seed") return false
  const setter = scene.sowing.species.find(({ id }) => id === window.setBy.species)
  if (!setter?.firstFlower || rangeWidth(setter.firstFlower) <= TIMING.bloomUnsure) return false
  return scene.handbook.species.get(setter.id)?.kind !== "grass" && day < setter.firstFlower.late
}

function reason(scene: Scene, window: CutWindow): string {
  switch (window.setBy.because) {
    case "seed":
      return ", before seed drops"
    case "next-crop":
      return scene.sowing.next ? `, in time for ${cropName(scene.handbook, scene.sowing.next.crop)}` : ""
    case "frost":
      return ", before frost takes it"
    case "regrowth":
      return ", so it stays down"
    default:
      return window.setBy.because satisfies never
  }
}

function risk(scene: Scene, window: CutWindow): string {
  const species = speciesName(
    scene.handbook,
    window.setBy.species,
    scene.sowing.species.map((each) => each.id),
  )
  switch (window.setBy.because) {
    case "seed":
      return `the ${species} may drop seed`
    case "next-crop":
      return scene.sowing.next
        ? `the ${cropName(scene.handbook, scene.sowing.next.crop)} would have to wait`
        : "the next crop would have to wait"
    case "frost":
      return `frost may take the ${species} first`
    case "regrowth":
      return "the stems get tough and rot slowly"
    default:
      return window.setBy.because satisfies never
  }
}

/** What the risk means for today. */
function soThen(window: CutWindow): string {
  if (window.setBy.because === "seed") return "That is next year's weeding, so cut what you can."
  return "Cut what you can."
}

function how(scene: Scene, window: CutWindow): string {
  const then = window.carryOff ? "carry-off" : scene.sowing.then
  if (then === "turn-in") return "Cut or chop it fine, then turn it in."
  return `Cut low, leave the roots in, ${TOPS[then]}.`
}
