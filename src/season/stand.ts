import type { Stage } from "../garden/acts.ts"
import type { Fact, FactOf, SowingRecord } from "../garden/facts.ts"
import type { Bed, Then } from "../garden/garden.ts"
import type { Species } from "../handbook/species.ts"
import { addDays, type Day, later, weekday } from "../values/day.ts"
import type { Seen, StageEstimates } from "./estimate.ts"
import { estimateOnce } from "./estimate-once.ts"
import type { Learned } from "./learned.ts"
import { NOT_ALIVE } from "./seen-stages.ts"
import type { Setting } from "./setting.ts"

/** One species of a sowing with what was seen of it and when its stages come. */
export type Member = {
  species: Species
  share: number
  seen: readonly Seen[]
  stages: StageEstimates
  gone: { how: "frost-killed" | "not-up"; on: Day } | null
  /** Reported to have come through the winter. */
  survivedOn: Day | null
  /** The last cut that took it, where it has not come back since. */
  cut: { on: Day; then: Then } | null
  /** The day on which it was seen to come back after a cut. */
  regrownOn: Day | null
  /** Where it grew a second time: since when the growth has stood that stands now or was cut last. */
  secondGrowth: Day | null
}

/** A sowing with everything that happened to it by the end of the day. */
export type Stand = {
  record: SowingRecord
  bed: Bed
  /** The day it was sown, or the day it is reckoned to be sown. */
  from: Day
  /** Was it really sown by `on`? */
  sown: boolean
  facts: readonly Fact[]
  members: readonly Member[]
  /** Weekdays (1 Monday) of earlier cuts in this bed. */
  usualWeekdays: readonly number[]
}

/** Stages that stand for the whole bed when no species is named. */
const WHOLE_BED: readonly Stage[] = ["up", "not-up", "patchy", "no-bloom", "survived-frost", "regrowth", "no-regrowth"]
/** Stages that only a grass shows. */
const GRASS_ONLY: readonly Stage[] = ["flag-leaf", "boot", "heading"]

/** The stand of a sowing. `from` is the day it was sown or is reckoned to be sown. */
export function standOf(record: SowingRecord, bed: Bed, from: Day, setting: Setting, learned?: Learned): Stand {
  const sown = record.sown !== null && record.sown <= setting.on
  const facts = record.facts.filter((fact) => isKnown(fact, sown, record, setting))
  const known = record.sowing.species.flatMap(({ id, share }) => {
    const species = setting.handbook.species.get(id)
    return species ? [{ species, share }] : []
  })
  const guess = (species: Species, seen: readonly Seen[]) =>
    estimateOnce({
      species,
      development: setting.handbook.development.get(species.id),
      sown: from,
      on: setting.on,
      weather: setting.weather,
      bed: bed.kind,
      observed: seen,
      ...(learned ? { learned } : {}),
    })
  const open = assign(
    facts,
    known.map((one) => one.species),
    guess,
  )
  const members = known.map(({ species, share }): Member => {
    const seen = open.get(species.id) ?? []
    const stages = guess(species, seen)
    const killed = seen.findLast((one) => one.what === "frost-killed")
    const survivedOn = survived(seen, stages)
    return {
      species,
      share,
      seen,
      stages,
      gone:
        killed && survivedOn === null
          ? { how: "frost-killed", on: killed.on }
          : notUp(seen, (some) => guess(species, some)),
      survivedOn,
      ...cutOf(facts, species, record.sowing.then, setting),
    }
  })
  return { record, bed, from, sown, facts, members, usualWeekdays: weekdaysOfCuts(bed, setting) }
}

/** Does a fact count by the end of the day? Wishes are of days to come; a cut of what does not grow here is another bed's. */
function isKnown(fact: Fact, sown: boolean, record: SowingRecord, setting: Setting): boolean {
  if (fact.fact === "want") return true
  if (!sown || fact.on > setting.on) return false
  if (fact.fact !== "cut" || fact.species.length === 0) return true
  return record.sowing.species.some((share) => fact.species.includes(share.id))
}

/** The weekdays on which this bed was cut before. */
function weekdaysOfCuts(bed: Bed, setting: Setting): number[] {
  return (setting.history.beds.get(bed.id) ?? []).flatMap((record) =>
    record.facts.flatMap((fact) => (fact.fact === "cut" && fact.on <= setting.on ? [weekday(fact.on)] : [])),
  )
}

/** Facts of one kind. */
export function factsOf<Name extends Fact["fact"]>(stand: Stand, name: Name): FactOf<Name>[] {
  return stand.facts.filter((fact): fact is FactOf<Name> => fact.fact === name)
}

/** The last day on which a stage was seen of anything in the bed. */
export function lastSeen(stand: Stand, what: Stage): Day | null {
  return factsOf(stand, "observed").findLast((fact) => fact.what === what)?.on ?? null
}

/** Members that are not known to be gone. */
export function alive(stand: Stand): Member[] {
  return stand.members.filter((member) => member.gone === null)
}

/**
 * Gives what was seen to the species it was seen of. A stage without a species stands for all, for the grasses, or for the
 * one that flowers first; a frost-kill for those that the frost was to kill.
 */
function assign(
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

/** Not up although even the last seedlings should have been, by what was reckoned before anyone looked, and not seen since: gone. */
function notUp(seen: readonly Seen[], guess: (seen: readonly Seen[]) => StageEstimates): Member["gone"] {
  const last = seen.findLast((one) => one.what === "not-up")
  if (!last || seen.some((one) => !NOT_ALIVE.includes(one.what) && one.on >= last.on)) return null
  const reckoned = guess(seen.filter((one) => one.what !== "not-up")).emergence.late
  return last.on >= reckoned ? { how: "not-up", on: last.on } : null
}

/** Alive in spring although the frost was to kill it: reported, or seen in a living stage after the last day for it. */
function survived(seen: readonly Seen[], stages: StageEstimates): Day | null {
  const killed = seen.findLast((one) => one.what === "frost-killed")
  const over = stages.frostKill.when?.late ?? null
  const alive = seen.findLast(
    (one) => one.what === "survived-frost" || (over !== null && one.on > over && !NOT_ALIVE.includes(one.what)),
  )
  return alive && (!killed || alive.on >= killed.on) ? alive.on : null
}

/** The last cut of a species and whether it came back; what no cut kills is back by itself when it blooms again. */
function cutOf(
  facts: readonly Fact[],
  species: Species,
  usual: Then,
  setting: Setting,
): Pick<Member, "cut" | "regrownOn" | "secondGrowth"> {
  let cut: Member["cut"] = null
  let regrownOn: Day | null = null
  let secondGrowth: Day | null = null
  const backBy = (on: Day) => {
    if (cut === null || cut.then === "turn-in" || cut.then === "tarp" || species.cut.killedFrom !== "never") return
    const again = addDays(cut.on, setting.cutting.perennialRebloom_days.from)
    if (on < again) return
    cut = null
    regrownOn = again
    secondGrowth = again
  }
  for (const fact of facts) {
    if (fact.fact !== "want") backBy(fact.on)
    if (fact.fact === "cut" && (fact.species.length === 0 || fact.species.includes(species.id))) {
      cut = { on: fact.on, then: fact.then ?? usual }
      secondGrowth = regrownOn
      regrownOn = null
    }
    const back = fact.fact === "observed" && fact.what === "regrowth"
    if (back && cut && fact.on > cut.on && (fact.species === null || fact.species === species.id)) {
      cut = null
      regrownOn = fact.on
      secondGrowth = fact.on
    }
  }
  backBy(setting.on)
  return { cut, regrownOn, secondGrowth }
}

/** The day after which a member is up, as far as known. */
export function upOn(member: Member): Day {
  const seen = member.seen.find((one) => one.what === "up" || one.what === "patchy")
  return seen ? seen.on : later(member.stages.emergence.likely, member.stages.emergence.early)
}
