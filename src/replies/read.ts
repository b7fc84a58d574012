import type { Act, Ask, Understood } from "../garden/acts.ts"
import { isStopAlone } from "./acts/stop.ts"
import { bedNames } from "./beds.ts"
import { cutIntoClauses } from "./clauses.ts"
import type { ReplyContext } from "./context.ts"
import { readFrames } from "./frames.ts"
import type { Item } from "./item.ts"
import { readItems } from "./items.ts"
import { isCode, isOrder, withoutReaction } from "./not-ours.ts"
import { withoutOurLines } from "./our-words.ts"
import type { Outcome } from "./outcome.ts"
import { isRemark } from "./remark.ts"
import type { Assumed, Scene } from "./scene.ts"
import { settle } from "./settle.ts"
import { repair } from "./spelling.ts"
import { spokenMarks } from "./spoken.ts"
import { type Trace, traceOf } from "./trace.ts"
import { cutIntoWords, type Word } from "./words.ts"

/** A text as it was understood, with what became of each of its words. */
export type Reading = Understood & { trace: Trace }

/** A text with more words than this is a story: nothing is settled in it that is not named. */
const STORY_WORDS = 50

/** Reads a text, with the answer to an earlier question in place of what was missing. */
export function read(text: string, context: ReplyContext, assumed: Assumed | null): Reading {
  const said = withoutReaction(text)
  const own = said === null ? null : withoutOurLines(said)
  if (own === "") return reading([], null, true, () => traceOf(text, [], []))
  if (own === null) return reading([], null, false, () => traceOf(text, [], []))
  const items = itemsOf(own, context)
  if (isStopAlone(items)) return reading([{ act: "stop" }], null, false, () => traceOf(own, items, []))
  if (isCode(own) || isOrder(items.flatMap((item) => item.words.map((word) => word.word))))
    return reading([], null, true, () => traceOf(own, items, []))
  const clauses = cutIntoClauses(items, context.now.day)
  const frames = readFrames(clauses, context.words)
  const scene: Scene = {
    context,
    text: own,
    beds: new Map(context.beds.map((bed) => [bed.id, bed])),
    story: items.filter((item) => item.mark === undefined).length > STORY_WORDS,
    spoken: new Set(),
    lastBeds: null,
    lastSeen: null,
    lastWork: null,
    assumed,
  }
  const settled = settle(frames, scene)
  // "done with this, take me off": whoever wants no more texts has done with them.
  const outcomes = settled.some(stops) ? settled.filter((each) => !isBareDone(each)) : settled
  const acts = tidy(outcomes)
  const asked = outcomes.find(({ proposal }) => proposal.ask)?.proposal.ask ?? null
  // Whoever wants no more texts is asked nothing.
  const ask = acts.some((act) => act.act === "stop") ? null : asked
  return reading(acts, ask, isRemark(outcomes, context.words.ordinary), () => traceOf(own, items, outcomes))
}

function stops({ proposal }: Outcome): boolean {
  return proposal.acts.some((act) => act.act === "stop")
}

function isBareDone({ frame, proposal }: Outcome): boolean {
  return (
    frame.work?.work === "done" &&
    frame.named.length === 0 &&
    frame.kind === null &&
    !stops({ frame, proposal, claimed: true })
  )
}

/** The trace is made only where it is looked at. */
function reading(acts: Act[], ask: Ask | null, note: boolean, trace: () => Trace): Reading {
  let made: Trace | undefined
  return {
    acts,
    ask,
    note,
    get trace() {
      made ??= trace()
      return made
    },
  }
}

/** The words of a text, put right, as the items they make in this garden. */
export function itemsOf(text: string, context: ReplyContext): Item[] {
  const { words } = context
  const cut = spokenMarks(cutIntoWords(text, words.expand), words)
  const beds = bedNames(context.beds, words)
  const grown = new Set(context.beds.flatMap((bed) => bed.species))
  const repaired = repair(cut, words, { beds: beds.words, grown: grownWords(grown, context) })
  const told = repaired.map((word): Word => {
    const tags = words.facts.get(word.word)?.tags
    return tags ? { ...word, tags } : word
  })
  return readItems(told, { context, beds, grown })
}

/** Words of the names of what grows here, for spelling. */
function grownWords(grown: ReadonlySet<string>, context: ReplyContext): Set<string> {
  const words = new Set<string>()
  for (const id of grown) for (const word of context.words.firstWords.get(id) ?? []) words.add(word)
  return words
}

/** The acts in order, without what is said twice; what became of the tops goes into the cut it belongs to. */
function tidy(outcomes: readonly Outcome[]): Act[] {
  const acts: Act[] = []
  for (const { proposal } of outcomes) {
    for (const act of proposal.acts) {
      if (acts.some((each) => JSON.stringify(each) === JSON.stringify(act))) continue
      const bare =
        act.act === "cut"
          ? acts.findIndex(
              (each) =>
                each.act === "cut" &&
                each.bed === act.bed &&
                each.on === act.on &&
                each.then === null &&
                each.species.length === 0,
            )
          : -1
      if (bare >= 0) acts[bare] = act
      else acts.push(act)
    }
  }
  return acts
}
