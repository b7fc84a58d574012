import { randomUUID } from "node:crypto"
import { existsSync, statSync } from "node:fs"
import { join } from "node:path"
import { fileURLToPath } from "node:url"
import { viewNow } from "../bot/known.ts"
import { organiserOf } from "../bot/overview.ts"
import { personRef } from "../bot/who.ts"
import { printable } from "../channels/terminal.ts"
import { gardenFiles } from "../files/garden-folder.ts"
import { NO_FILES } from "../files/kept-shelf.ts"
import type { Garden } from "../garden/garden.ts"
import { openJobs } from "../jobs/open.ts"
import type { Instant } from "../values/instant.ts"
import { localDay, localText, type Zone } from "../values/zone.ts"
import type { Command, RunningBot, World } from "./command.ts"
import { makeFirstGarden } from "./first-garden.ts"
import { schemaFrom } from "./first-garden-file.ts"
import { readOptions } from "./options.ts"
import { openPrompt, type Prompt } from "./prompt.ts"
import { openTalk } from "./talk.ts"
import { widthOf, wrapped } from "./wrap.ts"

const PROJECT = fileURLToPath(new URL("../..", import.meta.url))

export const run: Command = {
  name: "run",
  summary: "the bot: scheduler, channels, web; the default where no command is given",
  usage: `usage: ryebell [run] [--example] [--end-hold]

Runs until it is stopped (Ctrl-C). Texts appear here, and what you type is taken as a reply: "done 1", "bloom south".
Where several people share the garden, "ines: done 1" answers as Ines; without a name it is the first person.
  --example  plays the example garden with its days moved to today, as if it had been minded until now; its clock
             starts at eight in the morning there, and what is typed is gone at the end
  --end-hold a restored store sends nothing until you have looked at it; this ends that`,
  async run(args, world) {
    const { options } = readOptions(args, { example: "flag", "end-hold": "flag" })
    const file = options.example ? "there" : await haveGarden(world)
    if (file === "none") return 1
    let leave: () => void = () => {}
    const left = new Promise<void>((resolve) => {
      leave = resolve
    })
    let prompt: Prompt | undefined
    const say = (text: string) => (prompt ? prompt.line(text) : world.out(text))
    const terminal = { line: (text: string) => say(wrapped(text, widthOf(process.stdout))) }
    const bot = await world.bot({
      example: options.example,
      endHold: options["end-hold"],
      isFirst: file === "made",
      terminal,
    })
    for (const line of await greeting(bot)) terminal.line(line)
    prompt = openPrompt(process.stdin, process.stdout, typist(bot, world), leave)
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, leave)
    // After a failed write nothing may touch the disk again, not even an orderly end.
    void bot.broken.then((trouble) => {
      world.err(trouble.message)
      process.exit(1)
    })
    const beat = await openJobs({
      url: options.example ? null : world.settings.databaseUrl,
      speed: world.settings.clock?.speed ?? 1,
      tick: bot.desk.tick,
      worker: () => bot.worker,
      onError: (error) => bot.house.log.error({ error }, "a tick failed; the next one goes on"),
    })
    await left
    await beat.stop()
    await bot.desk.rest()
    prompt.close()
    await bot.close()
    return process.exitCode === undefined ? 0 : Number(process.exitCode)
  },
}

/** Asks for a first garden where there is no file yet; none where the talk ended before there was one. */
async function haveGarden(world: World): Promise<"there" | "made" | "none"> {
  const { settings, clock } = world
  if (settings.garden === NO_FILES || gardenFiles(settings.garden).length > 0) return "there"
  const file = isFolder(settings.garden) ? join(settings.garden, "garden.yaml") : settings.garden
  const talk = openTalk(process.stdin, process.stdout)
  try {
    const today = (zone: Zone) => localDay(clock.now(), zone)
    const made = await makeFirstGarden(talk, {
      handbook: world.handbook(),
      today,
      file,
      schema: schemaFrom(file, PROJECT),
    })
    if (!made)
      world.err(
        `Start again in a terminal for the questions, or copy config/examples/one-bed.yaml to ${file} and change it. "npm start -- --example" shows the example garden.`,
      )
    return made ? "made" : "none"
  } finally {
    talk.close()
  }
}

function isFolder(path: string): boolean {
  return existsSync(path) && statSync(path).isDirectory()
}

/** Takes what is typed as a reply of the person it names. */
function typist(bot: RunningBot, world: World): (text: string) => void {
  return (text) => {
    const now = bot.clock.now()
    const gardens = bot.house.shelf.all()
    if (gardens.length === 0 && bot.house.hold.reason !== null)
      return world.err(`That was not taken: ${bot.house.hold.reason}`)
    const { garden, person, words } = speaker(gardens, text)
    if (!garden || !person)
      return world.err("There is nobody in the garden file to reply as; add a person under `people`.")
    // Not from the clock: one that was set back would make a new line look like an old one.
    const id = `terminal:${randomUUID()}`
    bot.desk
      .take({ id, via: "terminal", from: personRef(garden.id, person), to: "", text: words, at: now, media: [] })
      .catch((error) =>
        bot.house.log.error({ error }, "a reply is not applied yet; what was kept waits for the next tick"),
      )
  }
}

/** "ines: done 1" is Ines; else the first person of the first garden. */
function speaker(
  gardens: readonly Garden[],
  text: string,
): { garden: Garden | undefined; person: string | undefined; words: string } {
  const named = /^\s*([A-Za-z0-9-]+)\s*:\s*(.*)$/s.exec(text)
  for (const garden of gardens) {
    const found = garden.people.find(
      (person) => named && [person.id, person.name.toLowerCase()].includes((named[1] as string).toLowerCase()),
    )
    if (found) return { garden, person: found.id, words: named?.[2] ?? "" }
  }
  const garden = gardens[0]
  return { garden, person: garden?.people[0]?.id, words: text }
}

/** A household has one or two gardens; an office reads its many elsewhere. */
const GREETED = 5

/** What a person sees first: what is served, on what footing, and what happens next. */
async function greeting(bot: RunningBot): Promise<string[]> {
  const now = bot.clock.now()
  const lines = [`Ryebell is running. ${bot.channels}`]
  const gardens = bot.house.shelf.all()
  for (const garden of gardens.slice(0, GREETED)) {
    const beds = garden.beds.length === 1 ? "1 bed" : `${garden.beds.length} beds`
    const people = garden.people.length === 1 ? "1 person" : `${garden.people.length} people`
    lines.push(
      `${printable(garden.name)}: ${beds}, ${people}. There it is ${localText(now, garden.place.zone).slice(0, 16).replace("T", " ")}.`,
    )
    const view = await viewNow(bot.house, garden, now)
    const { climate } = view.weather
    lines.push(
      `  Weather: ${bot.house.weather?.name ?? "no service is switched on"}; other days from normals: ${climate.made ?? `${climate.name}, ${climate.where}`}.`,
    )
    const next = nextWords(
      view.reminders.map((reminder) => reminder.speaks),
      now,
      garden,
    )
    if (next) lines.push(`  ${next}`)
    for (const person of garden.people) {
      const links = bot.season?.(garden, person)
      if (links) lines.push(`  Season page of ${printable(person.name)}: ${links.season}`)
    }
    const organiser = organiserOf(bot.house, garden)
    if (organiser && bot.house.overviewLink)
      lines.push(
        `  Plots of all who joined, for ${printable(organiser.name)}: ${bot.house.overviewLink(garden, organiser)}`,
      )
  }
  if (gardens.length > GREETED) lines.push(`And ${gardens.length - GREETED} gardens more.`)
  lines.push(...bot.notices)
  if (process.stdin.isTTY)
    lines.push("Type a reply and press Enter (done 1, bloom south, why, next, help). Ctrl-D or Ctrl-C stops.")
  return lines
}

function nextWords(speaks: readonly (string | null)[], now: Instant, garden: Garden): string | null {
  const today = localText(now, garden.place.zone).slice(0, 10)
  const next = speaks.filter((day): day is string => day !== null).sort()[0]
  if (next === undefined) return "Nothing is due in the months to come; add a sowing to the garden file."
  return next > today ? `The next text is planned for ${next}.` : null
}
