import { undoneSeqs } from "../garden/effective.ts"
import type { Entry, EntryOf } from "../garden/entry.ts"
import type { Person } from "../garden/garden.ts"
import { showWeekday } from "../reminders/dates.ts"
import { addDays } from "../values/day.ts"
import { localDay } from "../values/zone.ts"
import { nameOf, quoted } from "./digest-changes.ts"
import type { DigestInput, Line } from "./digest-facts.ts"

/** More notes than this are counted, not shown: the season page has them all. */
const MOST_SHOWN = 20

/** What was written last week, in the writers' own words, oldest first. */
export function logLines(input: DigestInput): Line[] {
  const { on, garden, person, links } = input
  const zone = garden.place.zone
  const taken = undoneSeqs(input.entries)
  const notes = ownNotes(input.entries, person).filter((each) => {
    const day = localDay(each.at, zone)
    return day > addDays(on, -7) && day <= on
  })
  const lines = notes.slice(-MOST_SHOWN).map((each): Line => {
    const day = showWeekday(localDay(each.at, zone), on)
    const who = each.by === person.id ? "you" : nameOf(each.by, input)
    const photos = each.photos?.length
      ? ` (with ${each.photos.length === 1 ? "a photo" : `${each.photos.length} photos`})`
      : ""
    return {
      words: `${day}, ${who}: "${quoted(each.text)}"${photos}${taken.has(each.seq) ? ", taken back later" : ""}`,
    }
  })
  const more = notes.length - lines.length
  if (more > 0)
    lines.push({
      words: `${more} earlier ${more === 1 ? "note is" : "notes are"} ${links ? "on the season page" : "in the log"}.`,
    })
  return lines
}

/**
 * Replies that a person may read: their own, and those of others about nothing but beds they mind. Notes of other plots
 * stay private to those who wrote them.
 */
export function ownNotes(entries: readonly Entry[], person: Person): EntryOf<"reply">[] {
  return entries.filter((each): each is EntryOf<"reply"> => {
    if (each.kind !== "reply" || isBareUndo(each)) return false
    if (each.by === person.id || person.minds === null) return true
    const beds = bedsOf(each)
    return beds.length > 0 && beds.every((bed) => person.minds?.includes(bed))
  })
}

/** The word UNDO is no note: what it took back is marked as taken back. */
function isBareUndo(entry: EntryOf<"reply">): boolean {
  return entry.acts.length > 0 && entry.acts.every((act) => act.act === "undo")
}

/** The beds that an entry's acts name. */
export function bedsOf(entry: EntryOf<"reply">): string[] {
  return entry.acts.flatMap((act) => ("bed" in act && act.bed !== null ? [act.bed] : []))
}
