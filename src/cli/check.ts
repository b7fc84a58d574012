import { printable } from "../channels/terminal.ts"
import { clashes } from "../files/garden-clashes.ts"
import { gardenFiles } from "../files/garden-folder.ts"
import type { Garden } from "../garden/garden.ts"
import { readGarden } from "../garden/read.ts"
import { type Problem, showProblem, WrongInput } from "../values/problem.ts"
import { mailLines, pageLines, storeLines, textLines, weatherLines } from "./check-channels.ts"
import { gardenLines } from "./check-garden.ts"
import { type Tried, tryLive, tryWeatherFile, tryWebhooks } from "./check-live.ts"
import { runtimeLines } from "./check-runtime.ts"
import type { Command, World } from "./command.ts"
import { readOptions } from "./options.ts"

/** What a part is asked about: the settings, and all gardens of the path. */
export type Checked = { world: World; gardens: readonly Garden[] }

/**
 * One part of what `check` shows: a title and the lines below it. Throws WrongInput where something set is wrong. `tries`
 * speaks to ourselves alone; what it finds wrong makes the exit status 1.
 */
export type CheckPart = {
  title: string
  lines(checked: Checked): string[]
  tries?(checked: Checked): Promise<Tried[]>
}

/** What `check` shows after the gardens, in order: what each thing that is switched on would use, with nothing sent. */
export const PARTS: readonly CheckPart[] = [
  {
    title: "Texts",
    lines: ({ world, gardens }) => textLines(world.settings, gardens),
    tries: ({ world }) => tryWebhooks(world),
  },
  { title: "Mail", lines: ({ world, gardens }) => mailLines(world.settings, gardens) },
  {
    title: "Weather",
    lines: ({ world }) => weatherLines(world.settings),
    tries: ({ world }) => tryWeatherFile(world),
  },
  { title: "Pages", lines: ({ world }) => pageLines(world.settings) },
  { title: "Store", lines: ({ world }) => storeLines(world.settings) },
  { title: "Run-time", lines: ({ world }) => runtimeLines(world.settings.clock !== null) },
]

export const check: Command = {
  name: "check",
  summary: "checks the garden file and the settings, and says what would be used",
  usage: `usage: ryebell check [FILE] [--live]

Reads the garden file (FILE, or the one that is set: RYEBELL_GARDEN) and shows every problem with its line, what was
found and what is expected; exit status 2 if there is one. Without problems it shows the garden as Ryebell understands
it: place, climate and frosts, people with their channels and hours, beds and sowings; then what would be used for
texts, mail, weather, pages and store, and the run-time it stands on. Where PUBLIC_URL and a carrier are set it posts
itself two webhooks there, one signed and one not, and says whether the running bot told them apart.
Changes nothing and sends nothing to anybody. Exit status 1 if something that was tried does not work.
  --live  also tries what is switched on: logs in at the carrier, the mail server, the mailbox and the database, and
          asks the weather service; sends nothing`,
  async run(args, world) {
    const { options, words } = readOptions(args, { live: "flag" }, { most: 1 })
    const read = await readGardens(world, words[0] ?? world.settings.garden)
    const lines: string[] = []
    for (const { garden, file } of read) lines.push(...(await gardenLines(garden, file, world)), "")
    const checked = { world, gardens: read.map(({ garden }) => garden) }
    const all: Tried[] = []
    const add = (title: string, shown: string[], tried: Tried[]) => {
      all.push(...tried)
      const words = tried.map(({ ok, line }) => (ok ? line : `FAILED: ${line}`))
      lines.push(title, ...[...shown, ...words].map((line) => `  ${printable(line)}`), "")
    }
    for (const part of PARTS) add(part.title, part.lines(checked), (await part.tries?.(checked)) ?? [])
    if (options.live) {
      const tried = await tryLive(world, checked.gardens)
      add("Tried", tried.length === 0 ? ["nothing that could be tried is switched on"] : [], tried)
    }
    for (const line of lines.slice(0, -1)) world.out(line)
    return all.every(({ ok }) => ok) ? 0 : 1
  },
}

/** Every garden of a path; warnings are said, problems of all files are thrown together. */
async function readGardens(world: World, path: string): Promise<{ garden: Garden; file: string }[]> {
  const files = gardenFiles(path)
  const problems: Problem[] = []
  const gardens: { garden: Garden; file: string }[] = []
  // A path without a garden file is read all the same, for the words of its failure.
  for (const file of files.length > 0 ? files : [path]) {
    const read = readGarden(await world.read(file), file, world.handbook())
    for (const warning of read.warnings) world.err(`note: ${showProblem(warning)}`)
    if ("problems" in read) {
      problems.push(...read.problems)
      continue
    }
    problems.push(...clashes(read.garden, file, gardens))
    gardens.push({ garden: read.garden, file })
  }
  if (problems.length > 0) throw new WrongInput(problems)
  return gardens
}
