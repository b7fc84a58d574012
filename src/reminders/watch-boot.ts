import type { Stage } from "../garden/acts.ts"
import { showRange } from "./dates.ts"
import { aliveSpecies, bedOfScene, type Kind, standingSince } from "./kind.ts"
import { speciesName } from "./names.ts"

const SEEN: readonly Stage[] = ["flag-leaf", "boot", "heading", "bloom", "full-bloom", "seed", "seed-drop"]

/** Asks for the last leaf or the boot of a grass, the report that narrows its cutting date most. */
export const watchBoot: Kind = {
  drafts(scene) {
    const { sowing } = scene
    if (sowing.watchBoot === null || sowing.endedOn !== null) return []
    const { opens, lapses, species } = sowing.watchBoot
    const bed = bedOfScene(scene)
    const grass = speciesName(scene.handbook, species, aliveSpecies(sowing))
    return [
      {
        ordinal: 1,
        opens,
        lapses,
        since: standingSince(sowing, opens),
        days: { opens, lapses },
        calls: [
          {
            call: 1,
            role: "first",
            on: opens,
            about: "opens",
            urgency: 34,
            pressing: false,
            say(day) {
              const range = showRange(opens, lapses, day)
              return {
                text: `The ${grass} on ${bed} may come to boot ${range}. Stem tops swell, ears still inside. Seeing it narrows the cutting date.`,
                short: `The ${grass} on ${bed} may come to boot ${range}.`,
                title: `look for the boot of the ${grass} on ${bed}`,
                words: ["BOOT"],
              }
            },
          },
        ],
      },
    ]
  },
  settles: (fact) => (fact.fact === "observed" && SEEN.includes(fact.what)) || fact.fact === "cut",
}
