import type { Stage } from "../garden/acts.ts"
import { addDays, type Day } from "../values/day.ts"
import { type Range, rangeWidth } from "../values/range.ts"
import { showDay, showRange } from "./dates.ts"
import { aliveSpecies, bedOfScene, factsSince, type Kind, type Said, type Scene, standingSince } from "./kind.ts"
import { speciesName } from "./names.ts"
import { TIMING } from "./timing.ts"

const SEEN: readonly Stage[] = ["bloom", "full-bloom", "seed", "seed-drop"]

/** Asks for the first flower, which starts the clock; "no bloom yet" asks again some days on. */
export const watchBloom: Kind = {
  drafts(scene) {
    const { sowing } = scene
    if (sowing.watchBloom === null || sowing.endedOn !== null) return []
    const { opens, lapses, species } = sowing.watchBloom
    const none = factsSince(scene, addDays(opens, -TIMING.noBloomYet))
      .filter((fact) => fact.fact === "observed" && fact.what === "no-bloom")
      .at(-1)
    return [
      {
        ordinal: 1,
        opens,
        lapses,
        since: standingSince(sowing, opens),
        days: { opens, lapses },
        notYet: none ? { until: addDays(none.on, TIMING.noBloomYet), seq: none.seq } : null,
        calls: [
          {
            call: 1,
            role: "first",
            on: opens,
            about: "opens",
            urgency: 36,
            pressing: false,
            say: (day) => words(scene, species, day),
          },
        ],
      },
    ]
  },
  settles: (fact) => (fact.fact === "observed" && SEEN.includes(fact.what)) || fact.fact === "cut",
}

function words(scene: Scene, id: string, day: Day): Said {
  const bed = bedOfScene(scene)
  const name = speciesName(scene.handbook, id, aliveSpecies(scene.sowing))
  const flower = scene.sowing.species.find((species) => species.id === id)?.firstFlower
  const grass = scene.handbook.species.get(id)?.kind === "grass"
  const does = grass ? "shed pollen" : "flower"
  const when = flower ? ` ${showWhen(flower, day)}` : " soon"
  return {
    text: `The ${name} on ${bed} may ${does}${when}. Have a look when you pass: the first bloom narrows the cutting date.`,
    short: `The ${name} on ${bed} may ${does}${when}.`,
    title: `look for the first bloom on ${bed}`,
    words: ["BLOOM", "NOT YET"],
  }
}

/** The range; of one that may run into winter or through it only the days from which a look is worth it. */
function showWhen(flower: Range, day: Day): string {
  if (rangeWidth(flower) <= TIMING.rangeTold) return showRange(flower.early, flower.late, day)
  return flower.early > day ? `any time from ${showDay(flower.early, day)} on` : "any time now"
}
