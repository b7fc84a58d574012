import type { Stage } from "../garden/acts.ts"
import type { Fact, FactOf } from "../garden/facts.ts"
import type { Species } from "../handbook/species.ts"
import type { Seen, StageEstimates } from "./stage-estimates.ts"

/** Stages that stand for the whole bed when no species is named. */
const WHOLE_BED: readonly Stage[] = ["up", "not-up", "patchy", "no-bloom", "survived-frost", "regrowth", "no-regrowth"]
/** Stages that only a grass shows. */
const GRASS_ONLY: readonly Stage[] = ["flag-leaf", "boot", "heading"]

/**
 * Gives what was seen to the species it was seen of, each list by day. A stage without a species stands for all, for the
 * grasses, or for the one that flowers first; a frost-kill for those that the frost was to kill. `guess` is what was believed
 * of a species given some reports.
 */
export function seenBySpecies(
  facts: readonly Fact[],
  species: readonly Species[],
  guess: (species: Species, seen: readonly Seen[]) => StageEstimates,
): Map<string, Seen[]> {
  const seen = new Map<string, Seen[]>(species.map((one) => [one.id, []]))
  const named: FactOf<"observed">[] = []
  const bare: FactOf<"observed">[] = []
  for (const fact of facts) if (fact.fact === "observed") (fact.species === null ? bare : named).push(fact)
  const add = (id: string, fact: FactOf<"observed">) => seen.get(id)?.push({ what: fact.what, on: fact.on })
  for (const fact of named) add(fact.species as string, fact)
  if (bare.length > 0 && species.length > 0) {
    const guesses = new Map<string, StageEstimates>()
    const guessed = (one: Species) => {
      const before = guesses.get(one.id) ?? guess(one, seen.get(one.id) ?? [])
      guesses.set(one.id, before)
      return before
    }
    for (const fact of bare) for (const one of meant(fact.what, species, guessed)) add(one.id, fact)
  }
  for (const list of seen.values()) list.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0))
  return seen
}

function meant(
  what: Stage,
  species: readonly Species[],
  guessed: (one: Species) => StageEstimates,
): readonly Species[] {
  if (species.length === 1 || WHOLE_BED.includes(what) || what === "broken-down") return species
  if (what === "frost-killed") {
    const likely = species.filter((one) => guessed(one).frostKill.chance >= 0.3)
    if (likely.length > 0) return likely
    const tender = Math.max(...species.map((one) => one.winterKill_c.high))
    return species.filter((one) => one.winterKill_c.high === tender)
  }
  if (GRASS_ONLY.includes(what)) return species.filter((one) => one.kind === "grass")
  const flowering = species.filter((one) => guessed(one).firstFlower !== null)
  if (flowering.length === 0) return species
  const first = flowering.reduce((a, b) => (guessed(b).firstFlower!.likely < guessed(a).firstFlower!.likely ? b : a))
  return [first]
}
