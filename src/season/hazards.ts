import { isStrongAllelopath } from "../agronomy/breakdown.ts"
import { deepestTieUp, temperatureFactor } from "../agronomy/residue.ts"
import { type Ground, soilOn, warmFrom } from "../agronomy/soil-warmth.ts"
import type { Crop } from "../handbook/crop.ts"
import { addDays, type Day, dayFromNumber, dayNumber, earlier, later } from "../values/day.ts"
import type { Hazard } from "./bed-plan.ts"
import type { Rest } from "./rest.ts"
import type { Setting } from "./setting.ts"
import type { Member } from "./stand.ts"
import { cropWord, dayWords, sentence, speciesWords, warmth } from "./words.ts"

/** The dangers that a killed cover holds for what comes next, each with the day it is over. */
export function hazardsOf(
  members: readonly Member[],
  rest: Rest,
  crop: Crop | null,
  tooRipe: boolean,
  ground: Ground,
  setting: Setting,
): Hazard[] {
  if (rest.winterKilled) return []
  return [
    toxins(members, rest, crop, setting),
    gas(members, rest, setting),
    maggot(rest, crop, ground, setting),
    tieUp(rest, crop, ground, setting),
    slugs(rest, ground, setting),
    tooRipe ? SEED : null,
  ].filter((hazard) => hazard !== null)
}

const SEED: Hazard = {
  what: "seed",
  until: null,
  why: "Seed may ripen in the cut tops: carry them off or compost them hot, and do not turn them in.",
}

/** Rye and its kind hold back small seed. */
function toxins(members: readonly Member[], rest: Rest, crop: Crop | null, setting: Setting): Hazard | null {
  const strong = members.filter((member) => isStrongAllelopath(member.species, setting.waits))
  if (strong.length === 0 || (crop && crop.start !== "small-seed" && crop.start !== "large-seed")) return null
  const until = crop?.start === "large-seed" ? rest.transplants.late : rest.smallSeed.late
  const what = speciesWords(
    setting.handbook,
    strong.map((member) => member.species.id),
  )
  return {
    what: "allelopathy",
    until,
    why: `Fresh residue of ${what} holds back seedlings, small seed most; plants set out are rarely hurt.`,
  }
}

/** Gas from mustard and its kin that were turned in green. */
function gas(members: readonly Member[], rest: Rest, setting: Setting): Hazard | null {
  const green = members.filter((member) => member.species.biofumigant && member.species.kind === "brassica")
  if (green.length === 0 || (rest.then !== "turn-in" && rest.then !== "tarp")) return null
  const until = addDays(rest.from, setting.waits.gas.days[2])
  const what = speciesWords(
    setting.handbook,
    green.map((member) => member.species.id),
  )
  return {
    what: "gas",
    until,
    why: `Fresh ${what} turned in gives off a sharp gas that harms seedlings: loosen the soil once, lightly, before planting, and do not stand over it.`,
  }
}

/** Maggots of the seedcorn fly, which lays where green stuff was turned in. */
function maggot(rest: Rest, crop: Crop | null, ground: Ground, setting: Setting): Hazard | null {
  const table = setting.waits.maggot
  if (!crop || rest.then !== "turn-in") return null
  if (!table.families.includes(crop.family) && !table.crops.includes(crop.id)) return null
  if (crop.start === "transplant") return null
  const least = addDays(rest.from, table.wait_days[0])
  const grown = degreeDaysFrom(rest.from, table.base_c, table.eggToAdult_cDays, setting)
  const warm = warmFrom(ground, least, table.flies_until_soil_c)
  const until = later(least, earlier(addDays(rest.from, table.wait_days[2]), earlier(grown, warm ?? grown)))
  const seed = cropWord(setting.handbook, crop.id)
  return {
    what: "seedcorn maggot",
    until,
    why: `The seedcorn fly lays where green cover was turned in, and its maggots eat ${seed} seed until about ${dayWords(until)}.`,
  }
}

/** Nitrogen that the residue ties up. */
function tieUp(rest: Rest, crop: Crop | null, ground: Ground, setting: Setting): Hazard | null {
  const above = setting.nitrogen.tieUpAbove_cn.value
  if (rest.cn.likely <= above || rest.then !== "turn-in") return null
  if (crop && (crop.nitrogen.need === "light" || crop.nitrogen.need === "light-medium")) return null
  const deepest = deepestTieUp(rest.cn.likely, setting.residue.pieces.likely, setting.residue)
  let sum = 0
  let until = rest.from
  for (let days = 1; days <= 240 && sum < deepest.decayDays; days += 1) {
    until = addDays(rest.from, days)
    const i = Math.min(ground.soilWet.length - 1, Math.max(0, dayNumber(until) - ground.first))
    sum += temperatureFactor(soilOn(ground, until), setting.residue) * ground.soilWet[i]!
  }
  return {
    what: "nitrogen tie-up",
    until,
    why: `Residue at a C:N of ${Math.round(rest.cn.likely)} ties up nitrogen, most about ${dayWords(until)}: feed the crop, or leave it on top.`,
  }
}

/** Slugs under mulch in cool weather. */
function slugs(rest: Rest, ground: Ground, setting: Setting): Hazard | null {
  const below = setting.waits.slugs.below_c
  if (rest.then !== "leave" || soilOn(ground, rest.transplants.likely) >= below) return null
  const until = warmFrom(ground, rest.transplants.likely, below)
  return {
    what: "slugs",
    until,
    why: `${sentence("slugs")} shelter under mulch while it is cool and wet (below about ${warmth(below, setting.garden.place.units)}): part it a hand's width round each plant.`,
  }
}

/** The day on which a sum of degree-days above a base is reached. */
function degreeDaysFrom(from: Day, base_c: number, need: number, setting: Setting): Day {
  const { course } = setting
  let sum = 0
  for (let i = Math.max(0, dayNumber(from) + 1 - course.first); i < course.tmin_c.length; i += 1) {
    sum += Math.max(0, (course.tmin_c[i]! + course.tmax_c[i]!) / 2 - base_c)
    if (sum >= need) return dayFromNumber(course.first + i)
  }
  return addDays(from, 240)
}
