import type { Tag } from "./facts.ts"
import type { Found } from "./phrases.ts"
import { isTagged } from "./says.ts"
import type { Words } from "./vocabulary.ts"
import type { Word } from "./words.ts"

/**
 * Does a word that is also an everyday word stand where a bed would: behind "the" or "in", right behind an act word, or
 * at the start of a clause with something said about it?
 */
export function inBedPlace(
  words: readonly Word[],
  from: number,
  to: number,
  phrases: readonly Found[][],
  vocabulary: Words,
): boolean {
  const before = words[from - 1]
  const after = words[to]
  if (isTagged(after, "part-of")) return false
  if (to - from > 1) return true
  // "it was sunny": said of the day, not the name of the Sunny side.
  if (isTagged(before, "was-is") && isTagged(words[from], "predicate")) return false
  if (isTagged(before, "bed-lead")) return true
  if (before && endsAct(phrases, from)) return true
  if (isTagged(before, "soil")) return true
  const said =
    before !== undefined &&
    (phrases[from - 1] ?? []).some((found) => found.to === from && /^(stages|courtesy)/.test(found.sense))
  if (before && before.kind !== "mark" && !isTagged(before, "bed-join") && !said) return false
  if (!after || after.kind === "mark" || after.kind === "picture") return true
  if (isTagged(after, "bed-follow") || after.kind === "number") return true
  if (vocabulary.facts.get(after.word)?.weekday !== undefined) return true
  if (MEASURED.some((tag) => isTagged(after, tag))) return true
  if (vocabulary.species.has(after.word)) return true
  return (phrases[to] ?? []).some((found) => /^(act|stages|tops|day:)/.test(found.sense))
}

const MEASURED: readonly Tag[] = ["soil", "temperature", "rain", "cover"]

/** Does an act, a command or a number word end right before this word? */
function endsAct(phrases: readonly Found[][], at: number): boolean {
  for (let i = Math.max(0, at - 3); i < at; i += 1) {
    for (const found of phrases[i] ?? [])
      if (found.to === at && !found.gap && /^(act|commands:(snooze|skip)|tell)/.test(found.sense)) return true
  }
  return false
}

/** Words that sound like a species ("fetch", "eye") stand for it only where a plant would stand. */
export function inSoundPlace(words: readonly Word[], at: number, vocabulary: Words): boolean {
  const before = words[at - 1]
  const after = words[at + 1]
  const led = !before || before.kind === "mark" || isTagged(before, "sound-lead")
  if (!led) return false
  const behind = isTagged(before, "sound-behind")
  if (behind && (!after || after.kind === "mark" || aboutPlants(words, Math.max(0, at - 5), vocabulary))) return true
  if (!after || after.kind === "mark") return isTagged(before, "cut-word")
  if (isTagged(after, "sound-be")) return aboutPlants(words, at + 1, vocabulary)
  return after.kind === "word" && aboutPlants(words, at + 1, vocabulary) && !isTagged(after, "sound-stop")
}

/** Is something said of a plant in the next few words? */
function aboutPlants(words: readonly Word[], from: number, vocabulary: Words): boolean {
  const { stages } = vocabulary.data
  const near = words.slice(from, from + 5).map((word) => word.word)
  return near.some((word) => PLANT_WORDS(vocabulary).has(word)) || stages === undefined
}

const plantWords = new WeakMap<Words, Set<string>>()

/** Every word of a phrase for a stage that is no small word. */
function PLANT_WORDS(vocabulary: Words): Set<string> {
  let words = plantWords.get(vocabulary)
  if (!words) {
    words = new Set()
    for (const phrases of Object.values(vocabulary.data.stages))
      for (const phrase of phrases)
        for (const part of phrase.split(/[ |?]/))
          if (part.length > 1 && !part.startsWith("@") && !vocabulary.light.has(part)) words.add(part)
    for (const part of vocabulary.data.small["plant-word"]) words.add(part)
    plantWords.set(vocabulary, words)
  }
  return words
}
