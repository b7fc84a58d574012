import { nearestWord } from "../values/nearest.ts"
import type { Problem } from "../values/problem.ts"
import { DEFAULTS } from "./garden-file.ts"
import { add, type Found, has, listAt, nameOf, wordAt, wordsIn } from "./read-parts.ts"
import { type Keys, partAt, type Tree } from "./read-tree.ts"
import { readPhone, readTime } from "./read-words.ts"

const personField = (person: Keys) => `people[${nameOf(person, "id")}]`

/** What no single word of a person can show: two people with one phone, no way to reach them, beds that are not there. */
export function checkPeople(tree: Tree, found: Found) {
  const { problems, warnings } = found
  const [people, beds] = [listAt(tree, "people"), listAt(tree, "beds")]
  checkShared(people, "id", "same-id", (text) => text, problems)
  checkShared(people, "phone", "same-phone", phoneDigits, problems)
  checkShared(people, "email", "same-mail", (text) => text.toLowerCase(), problems)
  for (const person of people) {
    checkReach(person, found)
    checkMinds(person, beds, problems)
  }
  const list = partAt(tree, ["people"])
  const isEmpty = !has(tree, "people") || (list?.is === "list" && list.items.length === 0)
  if (isEmpty && tree.is === "keys")
    add(warnings, "nobody", list?.at ?? tree.at, "people", {
      found: "nobody",
      expected: "at least one person: nobody will hear of this garden",
    })
  else checkMinded(people, beds, warnings)
}

function checkMinds(person: Keys, beds: readonly Keys[], problems: Problem[]) {
  const ids = beds.flatMap((bed) => wordAt(bed, "id")?.text ?? [])
  const named = (text: string) => beds.find((bed) => wordAt(bed, "name")?.text.toLowerCase() === text.toLowerCase())
  for (const { text, at } of wordsIn(person, "minds")) {
    if (ids.includes(text)) continue
    const bed = named(text)
    const nearest = (bed && wordAt(bed, "id")?.text) ?? nearestWord(text, ids)
    const expected = "the id of a bed of this file"
    add(problems, "unknown-bed", at, `${personField(person)}.minds`, { found: text, expected, nearest })
  }
}

/** Warns of a bed that nobody minds, where all people name their beds. */
function checkMinded(people: readonly Keys[], beds: readonly Keys[], warnings: Problem[]) {
  if (people.length === 0 || !people.every((person) => has(person, "minds"))) return
  const minded = new Set(people.flatMap((person) => wordsIn(person, "minds").map((word) => word.text)))
  const expected = "a person who minds it: nobody will hear of this bed"
  for (const bed of beds) {
    const id = wordAt(bed, "id")
    if (!id || minded.has(id.text)) continue
    add(warnings, "nobody-minds", id.at, `beds[${id.text}]`, { found: id.text, expected })
  }
}

/** A phone as its digits alone: the same number written in another way is the same phone. */
function phoneDigits(text: string): string {
  const read = readPhone(text)
  return "value" in read ? read.value : (read.nearest ?? text)
}

function checkShared(
  people: readonly Keys[],
  key: string,
  code: string,
  plain: (text: string) => string,
  problems: Problem[],
) {
  const owners = new Map<string, Keys>()
  for (const person of people) {
    const word = wordAt(person, key)
    if (!word) continue
    const owner = owners.get(plain(word.text))
    if (owner) {
      const [first, second] = [nameOf(owner, "name", "id"), nameOf(person, "name", "id")]
      const expected = `one for each person: ${first} (line ${wordAt(owner, key)?.at.line}) and ${second} have the same`
      add(problems, code, word.at, `${personField(person)}.${key}`, { found: word.text, expected })
    } else owners.set(plain(word.text), person)
  }
}

/** Can this person be reached in the way the file says, and within hours that exist? */
function checkReach(person: Keys, { problems, warnings }: Found) {
  const field = personField(person)
  const [phone, email] = [has(person, "phone"), has(person, "email")]
  if (!phone && !email)
    add(problems, "no-way-to-reach", person.at, field, {
      found: "neither phone nor email",
      expected: "a phone, an email, or both",
    })
  else checkBy(person, phone, email, problems)
  const digest = person.entries.get("digest")
  if (digest?.value.is === "keys" && !email)
    add(warnings, "digest-without-mail", digest.at, `${field}.digest`, {
      found: "a digest without an email",
      expected: "an email: the weekly mail goes there",
    })
  const [from, to] = [timeAt(person, "from"), timeAt(person, "to")]
  const end = wordAt(person, "texts", "to") ?? wordAt(person, "texts", "from")
  if (end && from !== null && to !== null && from >= to)
    add(problems, "hours-end-before-start", end.at, `${field}.texts`, {
      found: hoursText(person),
      expected: "from before to, within one day",
    })
}

function checkBy(person: Keys, phone: boolean, email: boolean, problems: Problem[]) {
  const by = wordAt(person, "by")
  if (!by) return
  const [wantsPhone, wantsMail] = [["text", "both"].includes(by.text), ["mail", "both"].includes(by.text)]
  const lacks = wantsPhone && !phone ? "phone" : wantsMail && !email ? "email" : null
  if (!lacks) return
  add(problems, "no-way-to-reach", by.at, `${personField(person)}.by`, {
    found: `by: ${by.text} without ${lacks}`,
    expected: lacks === "phone" ? "a phone, or by: mail" : "an email, or by: text",
  })
}

/** Hours as the file has them or as they are when it does not say; null where they cannot be read. */
function timeAt(person: Keys, key: "from" | "to"): number | null {
  const written = wordAt(person, "texts", key)
  const read = readTime(written ? written.text : DEFAULTS.texts[key])
  return "value" in read ? read.value : null
}

function hoursText(person: Keys): string {
  const text = (key: "from" | "to") => wordAt(person, "texts", key)?.text ?? DEFAULTS.texts[key]
  return `from ${text("from")} to ${text("to")}`
}
