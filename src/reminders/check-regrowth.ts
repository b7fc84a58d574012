import { daysBetween } from "../values/day.ts"
import { cutsDone } from "./cut.ts"
import { aliveSpecies, bedOfScene, type Kind } from "./kind.ts"
import { speciesNames } from "./names.ts"

/** Does it come back green after the cut? Asked once, some ten days on. */
export const checkRegrowth: Kind = {
  drafts(scene) {
    const { sowing } = scene
    if (sowing.regrowthCheck === null || sowing.wasCut === null || sowing.endedOn !== null) return []
    const { opens, lapses } = sowing.regrowthCheck
    const wasCut = sowing.wasCut.on
    const bed = bedOfScene(scene)
    const grasses = aliveSpecies(sowing).filter((id) => scene.handbook.species.get(id)?.kind === "grass")
    const looked = grasses.length > 0 ? grasses : aliveSpecies(sowing)
    // With four names there is no room left for both reply words.
    const what = looked.length > 3 ? "of the mix" : speciesNames(scene.handbook, looked)
    return [
      {
        ordinal: cutsDone(scene),
        opens,
        lapses,
        since: wasCut,
        days: { opens, lapses },
        calls: [
          {
            call: 1,
            role: "first",
            on: opens,
            about: "opens",
            urgency: 42,
            pressing: false,
            say(day) {
              const ago = `It is ${daysBetween(wasCut, day)} days since you cut ${bed}.`
              return {
                text: `${ago} Any ${what} coming back green? A glance will do. If it is back, a second cut usually settles it.`,
                short: `${ago} Any ${what} coming back green?`,
                title: `look for green regrowth on ${bed}`,
                words: ["REGROWTH", "NONE"],
              }
            },
          },
        ],
      },
    ]
  },
  settles: (fact) => fact.fact === "observed" && (fact.what === "regrowth" || fact.what === "no-regrowth"),
}
