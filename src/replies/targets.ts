import type { Frame, Named } from "./frames.ts"
import type { Item } from "./item.ts"
import { nameWords } from "./names.ts"
import { endsWith, isTagged, startsWith } from "./says.ts"
import type { Scene } from "./scene.ts"

/** A bed, a plant, or a plant in a bed, as a clause names them; `crop` is what the plant is as a food crop. */
export type Pair = {
  bed: string | null
  species: readonly string[] | null
  crop?: string | undefined
  /** The plant was named with the bed before ("rye in south and east"). */
  carried?: true
}

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

type Found = { bed?: string; species?: readonly string[]; crop?: string | undefined }

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
  const found: Found[] = []
  for (const { item, at } of frame.named)
    if (!isBeneath(frame, at)) readName(item, at, frame, scene, purpose, targets, found)
  if (targets.unknownBed || targets.unclear) assume(targets, found, scene)
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

/** The bed that was the answer to our question stands where the unclear one stood. */
function assume(targets: Targets, found: Found[], { assumed }: Scene): void {
  if (assumed?.which !== "bed") return
  targets.unknownBed = false
  targets.unclear = null
  for (const bed of assumed.beds ?? []) {
    if (!targets.beds.includes(bed)) targets.beds.push(bed)
    found.push({ bed })
  }
}

/** "clover under the wheat": the wheat only says where. */
function isBeneath(frame: Frame, at: number): boolean {
  if (!frame.items[at]?.species) return false
  const before = frame.items.slice(Math.max(0, at - 2), at).flatMap((item) => item.words)
  const lead = before.filter((word) => !isTagged(word, "article")).at(-1)
  return isTagged(lead, "under") && frame.named.some((other) => other.at < at && other.item.species)
}

function readName(
  item: Item,
  at: number,
  frame: Frame,
  scene: Scene,
  purpose: Purpose,
  targets: Targets,
  found: Found[],
): void {
  if (item.bed && meansBed(item, frame, scene, purpose)) {
    if (isDayHere(item, at, frame)) {
      targets.dayOrBed = !frame.named.some((other) => other.item !== item)
      return
    }
    const other = purpose === "state" && item.bed.doubtful && item.species ? grownIn(item.species, scene) : []
    readBed([...new Set([...item.bed.beds, ...other])], targets, found, item.bed.every === true)
    return
  }
  const crop = purpose === "plant" ? item.crops?.[0] : undefined
  if (crop !== undefined) targets.crops.push(crop)
  if (item.species) targets.species.push(item.species)
  if (item.species || crop !== undefined) found.push({ species: item.species ?? [], crop })
  else if (item.numbers && !item.crops && isReminderNumber(item, at, frame)) {
    const before = frame.named.filter((other) => other.at < at)
    const either = bedOrNumber(item, before, scene)
    if (either) targets.unclear = either
    else targets.numbers.push(...item.numbers)
  }
}

/** "bed 3 done and 2 too", where there is a bed 2, and a reminder 2 of another bed: those two beds. */
export function bedOrNumber(item: Item, before: readonly Named[], scene: Scene): string[] | null {
  const [n, more] = item.numbers ?? []
  const numbered = before.some(({ item: named }) => named.bed && named.words.at(-1)?.kind === "number")
  if (n === undefined || more !== undefined || item.marked || !numbered) return null
  const reminder = scene.context.open.find((each) => each.n === n)
  const bed = scene.context.beds.find((each) => nameWords(each.name).at(-1) === String(n))
  return reminder && bed && bed.id !== reminder.bed ? [bed.id, reminder.bed] : null
}

function grownIn(ids: readonly string[], scene: Scene): string[] {
  return scene.context.beds.filter((bed) => bed.species.some((id) => ids.includes(id))).map((bed) => bed.id)
}

function readBed(beds: readonly string[], targets: Targets, found: Found[], every: boolean): void {
  if (beds.length === 0) targets.unknownBed = true
  else if (every || beds.length === 1 || targets.amount === "both" || targets.amount === "all") {
    for (const bed of beds) {
      if (!targets.beds.includes(bed)) targets.beds.push(bed)
      found.push({ bed })
    }
  } else targets.unclear = beds
}

/** Is a name that is also a species, crop or day meant as the bed? A name is a name, unless the bed stands beside it. */
function meansBed(item: Item, frame: Frame, scene: Scene, purpose: Purpose): boolean {
  if (!item.bed?.doubtful) return true
  if (item.crops && purpose === "plant") return false
  if (!item.species) return true
  const grown = scene.context.beds.filter((bed) => bed.species.some((id) => item.species?.includes(id)))
  if (grown.length === 0) return true
  const elsewhere = frame.named.some((other) => other.item !== item && other.item.bed && !other.item.bed.doubtful)
  // "clover is blooming", where clover grows in another bed than the Clover bed: neither is sure.
  if (purpose === "state" && !elsewhere && !grown.some((bed) => item.bed?.beds.includes(bed.id))) return true
  return !elsewhere && !grown.some((bed) => item.bed?.beds.includes(bed.id))
}

/** "done friday" where Friday is a bed too; but "friday is up", and never "on friday". */
function isDayHere(item: Item, at: number, frame: Frame): boolean {
  if (endsWith(frame.items[at - 1], "article")) return false
  return item.day !== undefined && at > frame.headAt
}

/** Is a figure the number of a reminder, and not a count, a time or an everyday "one"? */
function isReminderNumber(item: Item, at: number, frame: Frame): boolean {
  if (item.marked) return true
  const before = frame.items[at - 1]
  const after = frame.items[at + 1]
  if (
    after &&
    !startsWith(after, "dead") &&
    !startsWith(after, "alive") &&
    (after.senses.has("content") ||
      after.senses.has("trap") ||
      after.senses.has("measure") ||
      after.senses.has("person") ||
      (startsWith(after, "times") && after.words[0]?.glued) ||
      after.crops ||
      after.species)
  )
    return false
  if (startsWith(after, "counted")) return false
  if (before && [...before.senses].some((sense) => sense.startsWith("tell:"))) return true
  // "done with 2", but not "done 1 with 2 helping".
  if (endsWith(before, "with") && !isHead(frame, at - 2) && frame.named.some((other) => other.at < at)) return false
  // "snooze till 3": a day or an hour.
  if (endsWith(before, "till")) return false
  if (item.senses.has("digits")) return !endsWith(before, "roughly") || (endsWith(before, "about") && isSpokenOf(frame))
  const follows =
    !before ||
    (isHead(frame, at - 1) && !isKind(before)) ||
    Boolean(before.numbers) ||
    startsWith(before, "number-before") ||
    before.senses.has("ways:mend")
  const leads =
    !after ||
    isHead(frame, at + 1) ||
    Boolean(after.day ?? after.numbers) ||
    after.mark !== undefined ||
    startsWith(after, "number-after") ||
    after.senses.has("courtesy") ||
    after.senses.has("picture:courtesy")
  return follows && leads
}

/** "the bloom one": which reminder, and no number. */
function isKind(item: Item): boolean {
  return [...item.senses].some((sense) => sense.startsWith("stages:") || sense.endsWith(":noun"))
}

/** "remind me about 3", "why are you asking about 8": what is said or asked is about a reminder. */
function isSpokenOf(frame: Frame): boolean {
  return (
    frame.command !== null ||
    frame.items.some((item) => [...item.senses].some((sense) => sense.startsWith("tell:") || sense.startsWith("stop:")))
  )
}

function isHead(frame: Frame, at: number): boolean {
  return frame.heads.some((head) => head.at === at)
}

/** "vetch in south and rye in east": a plant goes with the bed behind it; where beds come first, with the one before it. */
function pairUp(found: readonly Found[]): Pair[] {
  const pairs: Pair[] = []
  const bedFirst = found[0]?.bed !== undefined
  let waiting: Pair[] = []
  let current: string | null = null
  for (const { bed, species, crop } of found) {
    if (bed !== undefined) {
      const last = pairs.at(-1)
      if (!bedFirst && waiting.length > 0) for (const each of waiting) pairs.push({ ...each, bed })
      else if (!bedFirst && last?.species) pairs.push({ ...last, bed, carried: true })
      else pairs.push({ bed, species: null })
      waiting = []
      current = bed
      continue
    }
    const plant: Pair = { bed: current, species: species ?? null, ...(crop === undefined ? {} : { crop }) }
    const last = pairs.at(-1)
    if (!bedFirst) waiting.push(plant)
    else if (last && last.bed === current && last.species === null) pairs[pairs.length - 1] = plant
    else pairs.push(plant)
  }
  for (const each of waiting) pairs.push({ ...each, bed: current })
  return pairs
}
