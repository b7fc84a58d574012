import type { Stage } from "../garden/acts.ts"
import type { Fact, FactOf, SowingRecord } from "../garden/facts.ts"
import type { Bed, Then } from "../garden/garden.ts"
import type { Species } from "../handbook/species.ts"
import { addDays, type Day, later, weekday } from "../values/day.ts"
import { estimateOnce } from "./estimate-once.ts"
import { learnedFrom, standingOn } from "./learned-from.ts"
import { seenBySpecies } from "./seen-by-species.ts"
import { NOT_ALIVE } from "./seen-stages.ts"
import type { Setting } from "./setting.ts"
import type { Seen, StageEstimates } from "./stage-estimates.ts"

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

/** The stand of a sowing. `from` is the day it was sown or is reckoned to be sown. */
export function standOf(record: SowingRecord, bed: Bed, from: Day, setting: Setting): Stand {
  const sown = record.sown !== null && record.sown <= setting.on
  const facts = record.facts.filter((fact) => isKnown(fact, sown, record, setting))
  const known = record.sowing.species.flatMap(({ id, share }) => {
    const species = setting.handbook.species.get(id)
    return species ? [{ species, share }] : []
  })
  const learned = learnedFrom(record, from, setting)
  const guess = (species: Species, seen: readonly Seen[]) =>
    estimateOnce({
      species,
      development: setting.handbook.development.get(species.id),
      sown: from,
      on: standingOn(from, setting, seen),
      weather: setting.weather,
      bed: bed.kind,
      observed: seen,
      learned,
    })
  const open = seenBySpecies(
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
