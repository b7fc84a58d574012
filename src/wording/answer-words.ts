import type { Stage } from "../garden/acts.ts"
import type { ReminderKind } from "../garden/entry.ts"

/** What a stage is called when it was seen; the bed follows. With a species the stage is "of the rye". */
export const SEEN: Record<Stage, { of: string; bed: string }> = {
  up: { of: "green of the", bed: "green" },
  "not-up": { of: "nothing up yet of the", bed: "nothing up yet" },
  patchy: { of: "a patchy stand of the", bed: "a patchy stand" },
  "flag-leaf": { of: "last leaf of the", bed: "last leaf" },
  boot: { of: "boot of the", bed: "boot" },
  heading: { of: "heads of the", bed: "heads" },
  "no-bloom": { of: "no bloom yet of the", bed: "no bloom yet" },
  bloom: { of: "bloom of the", bed: "bloom" },
  "full-bloom": { of: "full bloom of the", bed: "full bloom" },
  seed: { of: "green seed of the", bed: "green seed" },
  "seed-drop": { of: "seed dropping from the", bed: "seed dropping" },
  "frost-killed": { of: "frost has killed the", bed: "a stand killed by frost" },
  "survived-frost": { of: "alive after frost: the", bed: "a stand alive after frost" },
  regrowth: { of: "green regrowth of the", bed: "green regrowth" },
  "no-regrowth": { of: "no regrowth of the", bed: "no regrowth" },
  "broken-down": { of: "crumbled stems of the", bed: "crumbled stems" },
}

/** What is done when a reminder of this kind is done; the bed comes first. */
export const DONE: Record<ReminderKind, string> = {
  sow: "sown",
  "water-in": "watered",
  "check-emergence": "looked at",
  resow: "sown again",
  frost: "looked at",
  "watch-boot": "looked at",
  "watch-bloom": "looked at",
  cut: "cut",
  "check-regrowth": "looked at",
  "rest-over": "looked at",
  plant: "planted",
}

/** The work of a reminder as a noun; the bed follows. */
export const WORK: Record<ReminderKind, string> = {
  sow: "sowing",
  "water-in": "watering",
  "check-emergence": "the seedlings on",
  resow: "sowing again on",
  frost: "frost on",
  "watch-boot": "the boot on",
  "watch-bloom": "bloom on",
  cut: "cutting",
  "check-regrowth": "regrowth on",
  "rest-over": "the rest of",
  plant: "planting",
}

/** What became of the tops, behind "cut". */
export const TOPS_DONE = {
  leave: ", tops left lying",
  "carry-off": ", tops carried off",
  "turn-in": " and turned in",
  tarp: " and covered",
} as const
