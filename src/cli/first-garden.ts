import { named, readCoordinates, readSaidDay, type Spot, townsCalled, wordsOfMix } from "../garden/first-answers.ts"
import type { BedKind, DateOrder, Units } from "../garden/garden.ts"
import { readGarden } from "../garden/read.ts"
import { asId, type Read, readChoice, readMail, readName, readPhone, type Wrong } from "../garden/read-words.ts"
import { countryOf, farFromZone, likelyZone, readZone, zonePlaces } from "../garden/read-zone.ts"
import { readSize } from "../garden/size.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { addDays, type Day } from "../values/day.ts"
import { CouldNot, showProblem } from "../values/problem.ts"
import type { Zone } from "../values/zone.ts"
import {
  type FirstBed,
  type FirstSowing,
  firstGardenText,
  refuseUnwritable,
  writeNewFile,
} from "./first-garden-file.ts"
import type { Talk } from "./talk.ts"

export type FirstGardenOptions = {
  handbook: Handbook
  /** The day in a zone: the place is only known during the talk. */
  today: (zone: Zone) => Day
  /** Where the file will be, for the words of the talk. */
  file: string
  /** What editors find the file's schema by, or null. */
  schema?: string | null
}

/** The talk, and the file it leads to, written whole or not at all; false where the person left before the end. */
export async function makeFirstGarden(talk: Talk, options: FirstGardenOptions): Promise<boolean> {
  refuseUnwritable(options.file)
  const text = await firstGarden(talk, options)
  if (text === null) return false
  writeNewFile(options.file, text)
  talk.say(`Written to ${options.file}.`)
  return true
}

/** Thrown inside the talk where the person's words end; never leaves it. */
class Ended extends Error {}

/**
 * The talk of the first start: where, who, and what was sown in which bed. Gives the text of a garden file that the reader
 * takes, or null where the person left before the end. An answer that cannot be used is asked for again with what is
 * expected. Writes nothing itself.
 */
export async function firstGarden(talk: Talk, options: FirstGardenOptions): Promise<string | null> {
  try {
    return await wholeTalk(talk, options)
  } catch (error) {
    if (!(error instanceof Ended)) throw error
    talk.say("Nothing was written.")
    return null
  }
}

async function wholeTalk(talk: Talk, { handbook, today, file, schema = null }: FirstGardenOptions): Promise<string> {
  talk.say(
    `There is no garden file at ${file} yet. A few questions, then it is written there; all of it can be changed later, and until the last answer nothing is.`,
  )
  talk.say("Enter alone takes what stands in [brackets].")
  const { spot, zone } = await askPlace(talk, handbook)
  const isUs = zonePlaces(handbook.table("zone-places")).some((place) => place.zone === zone && place.country === "US")
  const units = await ask(
    talk,
    `Units: us (feet, F) or metric?`,
    (text) => readChoice<Units>(text, ["us", "metric"]),
    isUs ? "us" : "metric",
  )
  const dates: DateOrder = units === "us" ? "month-first" : "day-first"
  const person = await askPerson(talk)
  const beds = [
    await askBed(talk, "What do you call your first bed?", [], { handbook, today: today(zone), units, dates }),
  ]
  for (;;) {
    const question = "Another bed? Its name, or Enter if that is all."
    const name = await ask(talk, question, (text) => newBedName(text, beds), "")
    if (name === "") break
    beds.push(await askRest(talk, name, beds, { handbook, today: today(zone), units, dates }))
  }
  const text = firstGardenText({ spot, zone, units, dates, person, beds }, schema)
  const read = readGarden(text, file, handbook)
  if ("problems" in read)
    throw new CouldNot(
      `The garden file would have been wrong; please report this:\n${read.problems.map(showProblem).join("\n")}`,
    )
  return text
}

/** Asks until the answer can be read; `otherwise` is taken for an empty one. */
async function ask<T>(talk: Talk, question: string, read: (answer: string) => Read<T>, otherwise?: string): Promise<T> {
  const hint = otherwise ? ` [${otherwise}]` : ""
  for (;;) {
    const said = await talk.ask(`${question}${hint} `)
    if (said === null) throw new Ended()
    const found = read(said.trim() === "" && otherwise !== undefined ? otherwise : said.trim())
    if ("value" in found) return found.value
    talk.say(wrongAnswer(said.trim(), found))
  }
}

function wrongAnswer(said: string, { expected, nearest }: Wrong): string {
  const found = said === "" ? "That was empty" : `"${said.slice(0, 60)}" cannot be used`
  return `${found}; expected ${expected}.${nearest ? ` Did you mean ${nearest}?` : ""}`
}

async function askPlace(talk: Talk, handbook: Handbook): Promise<{ spot: Spot; zone: Zone }> {
  const places = zonePlaces(handbook.table("zone-places"))
  for (;;) {
    const spot = await askSpot(talk, handbook)
    const country = countryOf(handbook.climates.at(spot).where, places)
    const guess = likelyZone(spot, places, country)
    const zone = await ask(talk, "Time zone?", readZone, guess ?? undefined)
    const far = farFromZone(spot, zone, places)
    if (!far) return { spot, zone }
    talk.say(`${far.odd}.${far.likely ? ` Perhaps ${far.likely}.` : ""} Once more, please.`)
  }
}

async function askSpot(talk: Talk, handbook: Handbook): Promise<Spot> {
  const question = "Where is the garden? A town near it, or latitude and longitude such as 40.04, -76.31:"
  const expected = "a larger town near the garden, or latitude and longitude such as 40.04, -76.31"
  const found = await ask(talk, question, (text): Read<Spot | { towns: Spot[]; elsewhere: boolean }> => {
    const coordinates = readCoordinates(text)
    if (coordinates) return coordinates
    const { towns, elsewhere } = townsCalled(text, handbook.climates)
    if (towns.length === 0) return { wrong: "unknown-town", expected }
    const spots = towns.map(({ lat, lon, name, where }) => ({ lat, lon, name: `${name}, ${where}` }))
    return { value: { towns: spots, elsewhere } }
  })
  if ("lat" in found) return found
  const { towns, elsewhere } = found
  if (towns.length === 1 && !elsewhere) {
    talk.say(`Taking the weather station ${towns[0]?.name}.`)
    return towns[0]!
  }
  talk.say(elsewhere ? "There is no weather station of that name there, but elsewhere:" : "There are several:")
  for (const [index, town] of towns.entries()) talk.say(`  ${index + 1}  ${town.name} (${town.lat}, ${town.lon})`)
  const chosen = await ask(talk, "Which of these? Its number, or 0 to name another:", (text): Read<Spot | null> => {
    const town = towns[Number(text) - 1]
    if (town || text === "0") return { value: town ?? null }
    return { wrong: "not-a-number", expected: `a number from 0 to ${towns.length}` }
  })
  return chosen ?? askSpot(talk, handbook)
}

async function askPerson(talk: Talk) {
  const name = await ask(talk, "Your name?", readName)
  talk.say("Your phone or mail address goes into the file only. Until you switch a channel on, texts appear here.")
  const question =
    "Your mobile phone with + and country code, or your mail address (to try it out, +12025550123 rings nowhere):"
  const reach = await ask(talk, question, (text): Read<{ phone: string | null; email: string | null }> => {
    if (text.includes("@")) {
      const email = readMail(text)
      return "value" in email ? { value: { phone: null, email: email.value } } : email
    }
    const spaceless = text.replace(/[\s().-]/g, "")
    const phone = readPhone(spaceless)
    return "value" in phone ? { value: { phone: phone.value, email: null } } : phone
  })
  return { id: asId(name) || "gardener", name, ...reach }
}

type About = { handbook: Handbook; today: Day; units: Units; dates: DateOrder }

async function askBed(talk: Talk, question: string, beds: readonly FirstBed[], about: About): Promise<FirstBed> {
  const name = await ask(talk, question, (text) => newBedName(text, beds), "South bed")
  return askRest(talk, name, beds, about)
}

function newBedName(text: string, beds: readonly FirstBed[]): Read<string> {
  if (text === "") return { value: "" }
  const name = readName(text)
  const isTaken =
    "value" in name && beds.some((bed) => [bed.id, bed.name.toLowerCase()].includes(name.value.toLowerCase()))
  return isTaken ? { wrong: "same-name", expected: "a name that no other bed has" } : name
}

async function askRest(talk: Talk, name: string, beds: readonly FirstBed[], about: About): Promise<FirstBed> {
  const kind = await ask(
    talk,
    "Is it a raised bed, a plot or a greenhouse bed?",
    (text) => readChoice<BedKind>(text, ["raised", "plot", "greenhouse"]),
    "raised",
  )
  const example = about.units === "us" ? "4 x 8 ft" : "1.2 x 2.4 m"
  const size = await ask(talk, `How large is it? For example ${example}:`, (text): Read<string> => {
    const read = readSize(text)
    return "m2" in read ? { value: text } : read
  })
  return { id: newId(name, beds), name, kind, size, sowing: await askSowing(talk, about) }
}

function newId(name: string, beds: readonly FirstBed[]): string {
  const base = asId(name) || "bed"
  const taken = beds.flatMap((bed) => [bed.id, bed.name.toLowerCase()])
  for (let n = 1; ; n += 1) {
    const id = n === 1 ? base : `${base.slice(0, 37)}-${n}`
    if (!taken.includes(id)) return id
  }
}

/** A sowing day without its year is rather past: autumn covers are entered in spring, and plans for the weeks ahead. */
const SOWN_AGO_DAYS = 120

async function askSowing(talk: Talk, { handbook, today, dates }: About): Promise<FirstSowing | null> {
  const question = "Which cover did you sow there, or will you? For example rye 60, hairy vetch 40; Enter for none yet:"
  const species = await askMix(talk, question, handbook)
  if (species.length === 0) return null
  const on = await ask(talk, "On what day?", (text) => readSaidDay(text, today, dates, addDays(today, -SOWN_AGO_DAYS)))
  talk.say(`That is ${on <= today ? "sown" : "planned for"} ${on}.`)
  const crop = await ask(
    talk,
    "What comes next in this bed? A food crop, or Enter if that is open:",
    (text): Read<string | null> => {
      if (text === "") return { value: null }
      const found = named(text, handbook.crops, "crop")
      if ("wrong" in found) return found
      return found.ids.length === 1
        ? { value: found.ids[0]! }
        : { wrong: "several", expected: `one of ${found.ids.join(", ")}` }
    },
    "",
  )
  if (crop === null) return { on, isSown: on <= today, species, next: null }
  const wanted = await ask(
    talk,
    `On what day do you want to plant or sow it? Enter if that is open:`,
    (text): Read<Day | null> => {
      if (text === "") return { value: null }
      const day = readSaidDay(text, today, dates, nextSpring(on))
      return "value" in day && day.value <= on ? { wrong: "wanted-before-sowing", expected: `a day after ${on}` } : day
    },
    "",
  )
  return { on, isSown: on <= today, species, next: { crop, wanted } }
}

/** A day said without its year is the one after the sowing: half a year on is nearest to all of them. */
function nextSpring(sown: Day): Day {
  return addDays(sown, 182)
}

async function askMix(talk: Talk, question: string, handbook: Handbook): Promise<FirstSowing["species"]> {
  const words = await ask(
    talk,
    question,
    (text): Read<{ ids: string[]; word: string; share: number | null }[]> => {
      const found = wordsOfMix(text).map(({ word, share }) => ({
        said: word,
        share,
        ...named(word, handbook.species, "cover"),
      }))
      const unknown = found.find((each) => "wrong" in each)
      if (unknown && "wrong" in unknown)
        return { ...unknown, expected: `covers by their names ("${unknown.said}" is not known)` }
      const shares = found.map((each) => each.share)
      const sum = shares.reduce<number>((total, share) => total + (share ?? 0), 0)
      const isWhole =
        shares.every((share) => share === null) || (shares.every((share) => share !== null) && Math.abs(sum - 100) <= 2)
      if (!isWhole)
        return { wrong: "shares-not-whole", expected: "a share for each that add up to 100, or none at all" }
      return { value: found.flatMap((each) => ("ids" in each ? [each] : [])) }
    },
    "",
  )
  const species: FirstSowing["species"] = []
  for (const { ids, word, share } of words) {
    const one =
      ids.length === 1
        ? ids[0]!
        : await ask(talk, `Which ${word}: ${ids.join(", ")}?`, (text) =>
            readChoice(text.replace(/\s+/g, "-").toLowerCase(), ids),
          )
    if (!species.some((each) => each.id === one)) species.push({ id: one, share })
  }
  return species
}
