import { fixedShelf } from "../../src/assemble-house.ts"
import { openKeptShelf } from "../../src/files/kept-shelf.ts"
import type { Garden } from "../../src/garden/garden.ts"
import type { Instant } from "../../src/values/instant.ts"
import { at, handbook } from "../given.ts"
import { aHouse, type TestHouse } from "./given-house.ts"

/** A house whose gardens of files let others in, with a store that keeps theirs. */
export async function anOffice(...gardens: Garden[]): Promise<TestHouse> {
  const house = aHouse(...gardens)
  const files = {
    ...fixedShelf(gardens[0] as Garden),
    all: () => gardens,
    byId: (id: string) => gardens.find((garden) => garden.id === id),
  }
  house.house.shelf = await openKeptShelf({ files, store: house.house.store, handbook: handbook() })
  return house
}

let minute = 0
/** A moment of the same morning, another each time. */
export const soon = (): Instant => at(`2026-04-01 09:${String(minute++ % 60).padStart(2, "0")}`)

/** The talk by text, in order: each text of theirs and the answer to it. */
export async function talk(house: TestHouse, from: string, ...texts: string[]): Promise<string[]> {
  return talkBy(house.texts, from, texts, (text) => house.says(from, text, soon()))
}

let mails = 0
/** One mail of somebody. `proof`: how it shows that it is theirs. */
export async function aMail(house: TestHouse, from: string, text: string, now: Instant, proof = "thread") {
  mails += 1
  const extra = { proof, subject: "my beds", messageId: `<m${mails}@example.org>` }
  await house.says(from, text, now, { via: "email", to: "bot@example.org", extra })
}

/** The talk by mail: the first mail may be anybody's, the others answer ours. */
export async function talkByMail(house: TestHouse, from: string, ...texts: string[]): Promise<string[]> {
  let count = 0
  return talkBy(house.mails, from, texts, (text) => {
    count += 1
    return aMail(house, from, text, soon(), count === 1 ? "none" : "thread")
  })
}

async function talkBy(
  left: readonly { to: string; text: string }[],
  from: string,
  texts: readonly string[],
  say: (text: string) => Promise<void>,
): Promise<string[]> {
  const answers: string[] = []
  for (const text of texts) {
    const before = left.length
    await say(text)
    answers.push(
      left
        .slice(before)
        .filter((each) => each.to === from)
        .map((each) => each.text)
        .join(" | "),
    )
  }
  return answers
}
