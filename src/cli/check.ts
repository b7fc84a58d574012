import { clashes } from "../files/garden-clashes.ts"
import { gardenFiles } from "../files/garden-folder.ts"
import type { Garden } from "../garden/garden.ts"
import { readGarden } from "../garden/read.ts"
import { type Problem, showProblem, WrongInput } from "../values/problem.ts"
import { gardenLines } from "./check-garden.ts"
import { runtimeLines } from "./check-runtime.ts"
import type { Command, World } from "./command.ts"
import { readOptions } from "./options.ts"

/** One part of what `check` shows: a title and the lines below it. Throws WrongInput where something set is wrong. */
export type CheckPart = { title: string; lines(world: World): Promise<string[]> }

/**
 * What `check` shows after the gardens, in order. A channel or service that is switched on adds its part here: what it
 * would use, as lines, with nothing sent.
 */
export const PARTS: readonly CheckPart[] = [
  { title: "Run-time", lines: async (world) => runtimeLines(world.settings.clock !== null) },
]

export const check: Command = {
  name: "check",
  summary: "checks the garden file and the settings, and says what would be used",
  usage: `usage: ryebell check [FILE]

Reads the garden file (FILE, or the one that is set: RYEBELL_GARDEN) and shows every problem with its line, what was
found and what is expected; exit status 2 if there is one. Without problems it shows the garden as Ryebell understands
it: place, climate and frosts, people with their channels and hours, beds and sowings, and the run-time it stands on.
Changes nothing and sends nothing.`,
  async run(args, world) {
    const { words } = readOptions(args, {}, { most: 1 })
    const gardens = await readGardens(world, words[0] ?? world.settings.garden)
    const lines: string[] = []
    for (const { garden, file } of gardens) lines.push(...(await gardenLines(garden, file, world)), "")
    for (const part of PARTS) lines.push(part.title, ...(await part.lines(world)).map((line) => `  ${line}`), "")
    for (const line of lines.slice(0, -1)) world.out(line)
    return 0
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
