import type { Bed } from "../garden/garden.ts"
import { type Day, daysBetween } from "../values/day.ts"
import type { Wish } from "./next-crop.ts"
import type { Setting } from "./setting.ts"
import type { Stand } from "./stand.ts"
import { cropWord, sentence, speciesWord } from "./words.ts"

/** Something of a family that stood in a bed, cover or crop. */
export type Grown = { family: string; name: string; on: Day }

/** All that is known to have stood in a bed before a day: covers from their sowing, crops from their planting. */
export function grownIn(bed: Bed, before: Day, setting: Setting): Grown[] {
  const grown: Grown[] = []
  for (const record of setting.history.beds.get(bed.id) ?? []) {
    if (record.sown && record.sown < before)
      for (const { id } of record.sowing.species) {
        const species = setting.handbook.species.get(id)
        if (species) grown.push({ family: species.family, name: speciesWord(setting.handbook, id), on: record.sown })
      }
    for (const fact of record.facts) {
      if (fact.fact !== "planted" || fact.on > setting.on || fact.on >= before) continue
      const id = fact.crop ?? record.sowing.next?.crop
      const crop = id ? setting.handbook.crops.get(id) : undefined
      if (crop) grown.push({ family: crop.family, name: cropWord(setting.handbook, crop.id), on: fact.on })
    }
  }
  return grown.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0))
}

/** Years that a family should keep away from a bed; 0 where it need not. */
export function yearsAway(family: string, setting: Setting): number {
  const years = setting.rotation.years[family]
  return typeof years === "number" ? years : 0
}

/** The last of a family that stood in a bed too short a time before a day; null where none did. */
export function tooSoon(family: string, bed: Bed, on: Day, setting: Setting): Grown | null {
  const years = yearsAway(family, setting)
  return (
    grownIn(bed, on, setting).findLast((one) => one.family === family && daysBetween(one.on, on) < years * 365) ?? null
  )
}

/** What carries over from a family to the next of it, in words; null where nothing is known to. */
export function carriesOver(family: string, setting: Setting): string | null {
  const words = setting.rotation.next[family]
  return typeof words === "string" ? words : null
}

/** Families that keep away from a bed for so long or longer are worth a word in a text; grasses and legumes are not. */
const LONG_YEARS = 2

/** Repeats of families that keep away for years, in a sentence each, for a text. */
export function familyNotes(stand: Stand, wish: Wish | null, setting: Setting): string[] {
  const notes: string[] = []
  const crop = wish?.found
  for (const family of new Set(stand.members.map((member) => member.species.family))) {
    if (yearsAway(family, setting) < LONG_YEARS) continue
    const own = stand.members.find((member) => member.species.family === family)!
    const name = sentence(speciesWord(setting.handbook, own.species.id))
    const before = tooSoon(family, stand.bed, stand.from, setting)
    if (crop?.family === family)
      notes.push(`${name} and ${cropWord(setting.handbook, crop.id)} are of one family: another bed is better.`)
    else if (before)
      notes.push(`${name} is of the family of ${before.name} (${before.on.slice(0, 4)}): another bed is better.`)
  }
  return notes
}

/** Warnings of repeats: the crop wanted after a cover of its family, and the cover after others of its family. */
export function rotationRemarks(stand: Stand, wish: Wish | null, setting: Setting): string[] {
  const remarks: string[] = []
  const crop = wish?.found
  if (crop) {
    const own = stand.members.find((member) => member.species.family === crop.family)
    const why = carriesOver(crop.family, setting)
    if (own)
      remarks.push(
        `${sentence(speciesWord(setting.handbook, own.species.id))} and ${cropWord(setting.handbook, crop.id)} are of one family${why ? `: ${why}` : ""}. Another bed would be better.`,
      )
    const before = tooSoon(crop.family, stand.bed, stand.from, setting)
    if (before && !own)
      remarks.push(
        `${sentence(before.name)} of the same family as ${cropWord(setting.handbook, crop.id)} stood here in ${before.on.slice(0, 4)}${why ? `: ${why}` : ""}.`,
      )
  }
  for (const family of new Set(stand.members.map((member) => member.species.family))) {
    const before = tooSoon(family, stand.bed, stand.from, setting)
    const own = stand.members.find((member) => member.species.family === family)!
    if (before && yearsAway(family, setting) > 1)
      remarks.push(
        `${sentence(speciesWord(setting.handbook, own.species.id))} follows ${before.name} of ${before.on.slice(0, 4)}, of the same family; ${yearsAway(family, setting)} years between are better.`,
      )
  }
  return remarks
}
