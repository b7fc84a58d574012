import { bedAt, unknownBedAt } from "./beds.ts"
import type { BedMention } from "./item.ts"
import type { Name } from "./names.ts"
import { BONUS, type ItemScene, type Push } from "./parts.ts"
import type { Found } from "./phrases.ts"
import { inBedPlace, inSoundPlace } from "./places.ts"
import { isTagged } from "./says.ts"
import type { Words } from "./vocabulary.ts"
import type { Word } from "./words.ts"

/** A bed by its name, or a bed that this garden does not have. */
export function addBed(
  words: readonly Word[],
  at: number,
  phrases: readonly Found[][],
  scene: ItemScene,
  push: Push,
): void {
  const { words: vocabulary } = scene.context
  const found = bedAt(scene.beds, words, at, vocabulary)
  if (found && !isFiller(words, at, found, phrases, vocabulary)) push(found.to, BONUS.bed, [], { bed: found.mention })
  const isPlain = (index: number): boolean =>
    !(phrases[index] ?? []).some((each) => each.to === index + 1 && /^(act|commands|ways:not)/.test(each.sense))
  const unknown = unknownBedAt(words, at, vocabulary, scene.beds.nouns, isPlain)
  if (!unknown || (found && found.to >= unknown.to)) return
  const species = grownThere(words, at, scene)
  push(unknown.to, BONUS.bed, [], { bed: { beds: species, doubtful: false } })
}

/** An everyday word that names a bed where it stands as that word: "well done", "right, done", "back from work". */
function isFiller(
  words: readonly Word[],
  at: number,
  { to, mention }: { to: number; mention: BedMention },
  phrases: readonly Found[][],
  vocabulary: Words,
): boolean {
  if (!mention.doubtful) return false
  const polite = (phrases[at] ?? []).filter((phrase) => phrase.sense === "courtesy")
  if (polite.some((phrase) => phrase.to > to)) return true
  const begins = at === 0 || words[at - 1]?.kind === "mark"
  const comma = words[to]?.kind === "mark" && words[to]?.word === ","
  if (begins && comma && isTagged(words[at], "filler")) return true
  return !inBedPlace(words, at, to, phrases, vocabulary)
}

/** "the rye bed" is the bed where rye grows, if no bed has that name. */
function grownThere(words: readonly Word[], at: number, scene: ItemScene): string[] {
  const name = longestName(scene.context.words.species, words, at)
  if (!name) return []
  return scene.context.beds.filter((bed) => bed.species.some((id) => name.ids.includes(id))).map((bed) => bed.id)
}

/** A species or a crop by its name. */
export function addPlants(words: readonly Word[], at: number, scene: ItemScene, push: Push): void {
  const { words: vocabulary } = scene.context
  const species = longestName(vocabulary.species, words, at)
  const crop = longestName(vocabulary.crops, words, at)
  if (species) push(at + species.words.length, BONUS.plant, [], { species: species.ids })
  if (crop) {
    let to = at + crop.words.length
    if (vocabulary.facts.get(words[to]?.word ?? "")?.tags.has("crop-noun")) to += 1
    push(to, BONUS.plant, [], { crops: crop.ids })
    if (to > at + crop.words.length) push(at + crop.words.length, BONUS.plant, [], { crops: crop.ids })
  }
  addShortNames(words, at, scene, push)
  if (scene.beds.words.has((words[at] as Word).word)) return
  const sound = vocabulary.facts.get((words[at] as Word).word)?.soundsSpecies
  const heard = sound === undefined ? undefined : vocabulary.species.get(sound)?.find((each) => each.words.length === 1)
  if (heard?.ids.some((id) => scene.grown.has(id)) && inSoundPlace(words, at, vocabulary))
    push(at + 1, BONUS.bed, [], { species: heard.ids })
}

/** "crimson", "hairy", "the white": the first word of a name that grows here beside another of its kind. */
function addShortNames(words: readonly Word[], at: number, scene: ItemScene, push: Push): void {
  const word = (words[at] as Word).word
  const ids = [...scene.grown].filter((id) => id.startsWith(`${word}-`))
  if (ids.length === 0 || word.length < 3 || isTagged(words[at], "no-short")) return
  const before = words[at - 1]
  const placed = !before || before.kind === "mark" || isTagged(before, "short-lead")
  const plain = scene.context.words.light.has(word)
  if (!plain || placed) push(at + 1, plain ? BONUS.light + 1 : BONUS.plant, [], { species: ids })
}

function longestName(names: ReadonlyMap<string, readonly Name[]>, words: readonly Word[], at: number): Name | null {
  let best: Name | null = null
  for (const name of names.get((words[at] as Word).word) ?? []) {
    const fits = name.words.every((part, i) => {
      const word = words[at + i]
      return word?.kind !== "mark" && (word?.word === part || (word?.kind === "number" && word.word === part))
    })
    if (fits && (!best || name.words.length > best.words.length)) best = name
  }
  return best
}
