import { addDays, type Day, daysBetween } from "../values/day.ts"
import { cautionPart, sowCautions } from "./cautions.ts"
import { showDay } from "./dates.ts"
import { aliveSpecies, bedOfScene, type Call, type Draft, type Kind, type Said, type Scene } from "./kind.ts"
import { capital, speciesNames } from "./names.ts"
import { TIMING } from "./timing.ts"

/** Sow what is planned: opens with the window, speaks again before it shuts, settled by sowing. */
export const sow: Kind = {
  drafts(scene) {
    const { sowing } = scene
    if (sowing.planned === null) return []
    if (sowing.sown !== null) return [sownDraft(sowing.planned, sowing.sown)]
    if (sowing.sow === null || sowing.endedOn !== null) return []
    const { from, by } = sowing.sow
    const calls: Call[] = [
      {
        call: 1,
        role: "first",
        on: from,
        about: "from",
        urgency: 62,
        pressing: false,
        say: (day) => first(scene, by, day),
      },
    ]
    const last = addDays(by, -TIMING.lastCallBefore)
    if (daysBetween(from, last) >= TIMING.lastCallBefore)
      calls.push({
        call: 2,
        role: "last",
        on: last,
        about: "by",
        urgency: 78,
        pressing: true,
        say: (day) => again(scene, by, day),
      })
    return [{ ordinal: 1, opens: from, lapses: by, since: from, days: { from, by }, calls }]
  },
  settles: (fact) => fact.fact === "sowed",
}

function sownDraft(planned: Day, sown: Day): Draft {
  const opens = planned <= sown ? planned : sown
  return { ordinal: 1, opens, lapses: sown, since: opens, days: {}, calls: [], settledOn: sown }
}

function first(scene: Scene, by: Day, day: Day): Said {
  const bed = bedOfScene(scene)
  const what = seedsOf(scene)
  const limit = `by about ${showDay(by, day)}`
  return {
    text: `It is time to sow ${bed}. ${capital(what)} should go in ${limit}. Scatter, rake across, firm, water.`,
    short: `Sow ${bed}: ${what}, ${limit}.`,
    title: `sow ${bed} ${limit}`,
    words: ["SOWED", "SKIP"],
    ...cautionPart(sowCautions(scene)),
  }
}

function again(scene: Scene, by: Day, day: Day): Said {
  const bed = bedOfScene(scene)
  const what = seedsOf(scene)
  const limit = `by about ${showDay(by, day)}`
  return {
    text: `${bed} again: sow ${what} ${limit}. Later it has too little time. Scatter, rake across, firm, water.`,
    short: `${bed} again: sow ${what} ${limit}.`,
    title: `sow ${bed} ${limit}`,
    words: ["SOWED", "SNOOZE", "SKIP"],
  }
}

/** The species, or "the mix" where naming them all would fill the text. */
function seedsOf(scene: Scene): string {
  const ids = aliveSpecies(scene.sowing)
  return ids.length > 3 ? "the mix" : speciesNames(scene.handbook, ids)
}
