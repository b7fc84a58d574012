import type { Frame } from "./frames.ts"
import { isStray } from "./frames.ts"
import type { Item } from "./item.ts"
import type { Outcome } from "./outcome.ts"
import { hasWord } from "./says.ts"

/** Is some of the text worth keeping as the gardener's own remark, beyond the acts? */
export function isRemark(outcomes: readonly Outcome[], ordinary: ReadonlySet<string>): boolean {
  const any = outcomes.some(({ proposal }) => proposal.acts.length > 0 || proposal.ask !== null)
  if (outcomes.some(({ proposal }) => proposal.note)) return true
  if (!any) return !outcomes.every(({ frame, claimed }) => isCourtesy(frame) || (claimed && !hasContent(frame)))
  const weighed = outcomes.some(({ proposal }) =>
    proposal.acts.some((act) => act.act === "measure" && act.what === "fresh_g_per_m2"),
  )
  return outcomes.some((outcome) => leavesOver(outcome, weighed, ordinary))
}

function leavesOver({ frame, proposal, absorbed }: Outcome, weighed: boolean, ordinary: ReadonlySet<string>): boolean {
  if (absorbed) return false
  if (proposal.ask !== null && proposal.acts.length === 0) return false
  // The size of the square that a weight was taken from is part of the measure.
  if (weighed && frame.items.some((item) => item.amount?.of === "area") && frame.stray.length === 0) return false
  if (proposal.acts.length === 0) {
    if (
      frame.heads.length === 0 &&
      frame.items.length <= 2 &&
      frame.stray.every((item) => isNoise(item, ordinary)) &&
      frame.named.length === 0
    )
      return false
    return hasContent(frame) && !isCourtesy(frame)
  }
  if (proposal.acts.some((act) => ["tell", "stop", "help", "undo", "pause", "join"].includes(act.act))) return false
  const told = (item: Item): boolean => (["dead", "alive", "left-word"] as const).some((tag) => hasWord(item, tag))
  return frame.stray.some((item) => item.senses.has("content") && !told(item) && !isNoise(item, ordinary))
}

/** Something of the world is spoken of: an unknown word, a plant, a figure. */
function hasContent(frame: Frame): boolean {
  return (
    frame.items.some(
      (item) =>
        isStray(item) ||
        isUnplaced(item, frame) ||
        Boolean(item.crops ?? item.species ?? item.amount) ||
        item.senses.has("measure"),
    ) ||
    frame.heads.some(
      (head) => !head.item.senses.has("courtesy") && !head.item.senses.has("light") && !head.item.senses.has("picture"),
    )
  )
}

/** A word that can say a stage or work, where it says none ("made a crumble"). */
function isUnplaced(item: Item, frame: Frame): boolean {
  if (item.senses.has("light") || item.senses.has("courtesy") || frame.heads.some((head) => head.item === item))
    return false
  return [...item.senses].some((sense) => sense.startsWith("stages:"))
}

/** A word that no dictionary knows is most likely a name ("done 1 - Ines", "Mateo cut south"). */
function isNoise(item: Item, ordinary: ReadonlySet<string>): boolean {
  return item.words.every((word) => word.word.length < 2 || !ordinary.has(word.word))
}

/** Thanks, greetings and sighs only; small words count where courtesy stands beside them. */
function isCourtesy(frame: Frame): boolean {
  const polite = (item: Item): boolean =>
    item.mark !== undefined ||
    item.senses.has("courtesy") ||
    item.senses.has("picture") ||
    item.senses.has("picture:courtesy") ||
    item.senses.has("name") ||
    item.senses.has("person")
  return (
    frame.items.every((item) => polite(item) || (item.senses.has("light") && item.senses.size === 1)) &&
    frame.items.some((item) => polite(item) && !item.senses.has("person"))
  )
}
