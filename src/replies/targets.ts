import type { Frame } from "./frames.ts"
import type { Item } from "./items.ts"
import type { Scene } from "./scene.ts"

/** A bed, a plant, or a plant in a bed, as a clause names them. */
export type Pair = { bed: string | null; species: readonly string[] | null }

/** Everything a clause names, sorted by what it is. */
export type Targets = {
  numbers: number[]
  beds: string[]
  /** A bed that this garden does not have. */
  unknownBed: boolean
  /** Words that fit several beds. */
  unclear: readonly string[] | null
  /** Candidates of each plant that is named. */
  species: (readonly string[])[]
  crops: string[]
  pairs: Pair[]
  /** A weekday that is also the name of a bed, with nothing to tell which. */
  dayOrBed: boolean
  amount: "all" | "both" | "rest" | null
  none: boolean
}

/** What the names are wanted for: a word may be a crop for planting and a bed for all else. */
export type Purpose = "work" | "state" | "plant" | "command"

export function targetsOf(frame: Frame, scene: Scene, purpose: Purpose): Targets {
  const targets: Targets = {
    numbers: [],
    beds: [],
    unknownBed: false,
    unclear: null,
    species: [],
    crops: [],
    pairs: [],
    dayOrBed: false,
    amount: frame.has("all") ? "all" : frame.has("both") ? "both" : frame.has("rest") ? "rest" : null,
    none: false,
  }
  const found: { bed?: string; species?: readonly string[] }[] = []
  for (const { item, at } of frame.named) if (!isBeneath(frame, at)) readName(item, at, frame, scene, purpose, targets, found)
  targets.pairs = pairUp(found)
  targets.none =
    targets.numbers.length === 0 &&
    targets.beds.length === 0 &&
    targets.species.length === 0 &&
    !targets.unknownBed &&
    targets.unclear === null &&
    targets.amount === null &&
    !targets.dayOrBed
  return targets
}

/** "clover under the wheat": the wheat only says where. */
function isBeneath(frame: Frame, at: number): boolean {
  if (!frame.items[at]?.species) return false
  const before = frame.items.slice(Math.max(0, at - 2), at).flatMap((item) => item.words.map((word) => word.word))
  const lead = before.filter((word) => word !== "the").at(-1) ?? ""
  return ["under", "underneath", "beneath", "among", "amongst", "beside", "below"].includes(lead) && frame.named.some((other) => other.at < at && other.item.species)
}

function readName(
  item: Item,
  at: number,
  frame: Frame,
  scene: Scene,
  purpose: Purpose,
  targets: Targets,
  found: { bed?: string; species?: readonly string[] }[],
): void {
  if (item.bed && meansBed(item, at, frame, scene, purpose)) {
    if (isDayHere(item, at, frame)) {
      targets.dayOrBed = !otherTargets(frame, item)
      return
    }
    const { beds } = item.bed
    if (beds.length === 1) {
      if (!targets.beds.includes(beds[0] as string)) targets.beds.push(beds[0] as string)
      found.push({ bed: beds[0] as string })
    } else if (beds.length === 0) targets.unknownBed = true
    else if (targets.amount === "both" || targets.amount === "all") {
      targets.beds.push(...beds)
      for (const bed of beds) found.push({ bed })
    } else targets.unclear = beds
    return
  }
  if (item.crops && purpose === "plant") {
    targets.crops.push(item.crops[0] as string)
    return
  }
  if (item.species) {
    targets.species.push(item.species)
    found.push({ species: item.species })
    return
  }
  if (item.crops && !item.numbers) return
  if (item.numbers && isReminderNumber(item, at, frame)) targets.numbers.push(...item.numbers)
}

/** Is a name that is also a species, crop or day meant as the bed? A name is a name, unless the bed stands beside it. */
function meansBed(item: Item, at: number, frame: Frame, scene: Scene, purpose: Purpose): boolean {
  if (!item.bed?.doubtful) return true
  if (item.crops && purpose === "plant") return false
  if (!item.species) return true
  const grown = scene.context.beds.filter((bed) => bed.species.some((id) => item.species?.includes(id)))
  if (grown.length === 0) return true
  const elsewhere = frame.named.some((other) => other.item !== item && other.item.bed && !other.item.bed.doubtful)
  if (elsewhere) return false
  return at < 0 ? false : !grown.some((bed) => item.bed?.beds.includes(bed.id))
}

/** "done friday" where Friday is a bed too; but "friday is up", and never "on friday". */
function isDayHere(item: Item, at: number, frame: Frame): boolean {
  return item.day !== undefined && at > frame.headAt
}

function otherTargets(frame: Frame, item: Item): boolean {
  return frame.named.some((other) => other.item !== item)
}

/** Is a figure the number of a reminder, and not a count, a time or an everyday "one"? */
function isReminderNumber(item: Item, at: number, frame: Frame): boolean {
  if (item.marked) return true
  const before = frame.items[at - 1]
  const after = frame.items[at + 1]
  const next = after?.words[0]?.word ?? ""
  if (after && (after.senses.has("content") || after.senses.has("trap") || after.crops || after.species)) return false
  if (["beds", "plots", "strips", "rows", "row", "plants", "days", "times", "more", "of", "patches", "borders", "seedlings", "other"].includes(next)) return false
  if (item.senses.has("digits")) return !["at", "about", "around", "approx", "roughly", "maybe", "~"].includes(before?.words.at(-1)?.word ?? "")
  const follows = !before || isHead(frame, at - 1) || Boolean(before.numbers) || ["and", "or", ",", "&", "with"].includes(before.words[0]?.word ?? "") || before.senses.has("ways:mend")
  const leads = !after || isHead(frame, at + 1) || Boolean(after.day) || after.mark !== undefined || ["is", "'s", "and", "or", "was", "now", "please", "too"].includes(next) || after.senses.has("courtesy")
  return follows && leads
}

function isHead(frame: Frame, at: number): boolean {
  return frame.heads.some((head) => head.at === at)
}

/** "vetch in south and rye in east": a plant goes with the bed behind it, or with the bed before it. */
function pairUp(found: readonly { bed?: string; species?: readonly string[] }[]): Pair[] {
  const pairs: Pair[] = []
  const bedFirst = found[0]?.bed !== undefined
  let waiting: (readonly string[])[] = []
  let current: string | null = null
  for (const { bed, species } of found) {
    if (bed !== undefined) {
      if (bedFirst) {
        pairs.push({ bed, species: null })
        current = bed
      } else if (waiting.length > 0) {
        for (const each of waiting) pairs.push({ bed, species: each })
        waiting = []
        current = bed
      } else {
        pairs.push({ bed, species: null })
        current = bed
      }
    } else if (species) {
      if (!bedFirst) waiting.push(species)
      else {
        const last = pairs.at(-1)
        if (last && last.bed === current && last.species === null) last.species = species
        else pairs.push({ bed: current, species })
      }
    }
  }
  for (const each of waiting) pairs.push({ bed: current, species: each })
  return pairs
}
