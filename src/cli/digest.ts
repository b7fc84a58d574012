import { mkdir, writeFile } from "node:fs/promises"
import { join } from "node:path"
import { numbersOf } from "../bot/digests.ts"
import { viewOn } from "../bot/known.ts"
import { chartEnclosure, chartPng } from "../channels/chart-png.ts"
import { composeMail } from "../channels/mail-compose.ts"
import type { Garden, Person } from "../garden/garden.ts"
import { hushedKinds } from "../reminders/index.ts"
import { nearestWord } from "../values/nearest.ts"
import { CouldNot, type Problem, WrongInput } from "../values/problem.ts"
import { instantAt } from "../values/zone.ts"
import { DIGEST_PICTURE, type Digest, digest as writeDigest } from "../wording/digest.ts"
import type { Command, KnownGarden, World } from "./command.ts"
import { readOptions } from "./options.ts"

export const digest: Command = {
  name: "digest",
  summary: "writes a person's weekly mail to a folder",
  usage: `usage: ryebell digest [--person ID] [--on DAY] --out DIR [--garden FILE] [--log FILE] [--weather FILE]

Writes the weekly mail as PERSON-DAY.eml, .html, .txt and .png, as it would go out on that day. Nothing is sent or logged.
  --person ID     whose mail; without it, the first person of the garden file
  --on DAY        as known at the end of that day (YYYY-MM-DD); without it, today
  --out DIR       the folder to write to; it is made where it is missing`,
  async run(args, world) {
    const { options } = readOptions(args, {
      person: "text",
      on: "day",
      out: "text",
      garden: "text",
      log: "text",
      weather: "text",
    })
    if (options.out === undefined) throw new WrongInput([problem("--out", "nothing", "a folder to write to")])
    const known = await world.known(options)
    const person = personOf(options.person, known.garden)
    const mail = digestOf(known, person)
    const base = join(options.out, `${person.id}-${known.on}`)
    const png = chartPng(mail.svg)
    await writeFiles(options.out, [
      [`${base}.eml`, await eml(mail, known, person, world.settings.mailFrom ?? "Ryebell <mail@ryebell.invalid>")],
      [`${base}.html`, mail.html.replaceAll(`cid:${DIGEST_PICTURE}`, `${person.id}-${known.on}.png`)],
      [`${base}.txt`, mail.text],
      [`${base}.png`, png],
    ])
    say(world, base, mail)
    return 0
  },
}

/** The mail as of the day that is known; without links, since nothing is served that they could lead to. */
function digestOf(known: KnownGarden, person: Person): Digest {
  const view = viewOn(known.handbook, known.garden, known.entries, known.weather, known.on)
  return writeDigest({
    garden: view.garden,
    handbook: known.handbook,
    person,
    on: view.on,
    plan: view.plan,
    reminders: view.reminders,
    entries: view.entries,
    orphans: view.history.orphans,
    weather: view.weather,
    links: null,
    numberOf: numbersOf(view.history, person.id),
    hushed: [...(hushedKinds({ garden: view.garden, history: view.history }).get(person.id) ?? [])],
  })
}

function personOf(id: string | undefined, garden: Garden): Person {
  const ids = garden.people.map((each) => each.id)
  if (id === undefined) {
    const first = garden.people[0]
    if (!first) throw new CouldNot("Nobody is named in the garden file; add a person under `people`.")
    return first
  }
  const found = garden.people.find((each) => each.id === id)
  if (found) return found
  const nearest = nearestWord(id, ids)
  throw new WrongInput([
    { ...problem("--person", JSON.stringify(id), `one of ${ids.join(", ")}`), ...(nearest ? { nearest } : {}) },
  ])
}

/** The whole message, as it would leave. */
function eml(mail: Digest, known: KnownGarden, person: Person, from: string): Promise<Buffer> {
  const at = instantAt(known.on, person.digest?.at ?? 0, known.garden.place.zone)
  return composeMail(
    {
      key: `digest:${known.garden.id}:${person.id}:${mail.week}`,
      garden: known.garden.id,
      person: person.id,
      kind: "digest",
      channel: "mail",
      to: person.email ?? `${person.id}@ryebell.invalid`,
      subject: mail.subject,
      text: mail.text,
      html: mail.html,
      enclosures: [chartEnclosure(mail.svg, DIGEST_PICTURE)],
      headers: mail.headers,
      told: [],
      notBefore: at,
      goodUntil: at,
      state: "waiting",
      attempts: 0,
      dueAt: at,
      carrierId: null,
      fate: null,
      lastError: null,
    },
    from,
    new Date(at),
  )
}

async function writeFiles(folder: string, files: readonly [string, string | Buffer][]): Promise<void> {
  try {
    await mkdir(folder, { recursive: true })
    for (const [path, content] of files) await writeFile(path, content)
  } catch (error) {
    throw new CouldNot(
      `Could not write to ${folder}: ${(error as Error).message}. Name a folder that can be written with --out.`,
    )
  }
}

function say(world: World, base: string, mail: Digest): void {
  world.out(mail.subject)
  for (const ending of ["eml", "html", "txt", "png"]) world.out(`${base}.${ending}`)
}

function problem(field: string, found: string, expected: string): Problem {
  return { code: "option", place: null, field, found, expected }
}
