import { readFileSync } from "node:fs"
import { readFile } from "node:fs/promises"
import { createInterface } from "node:readline"
import { fixedShelf, fixedWeather, openClock, paperHouse } from "./assemble-house.ts"
import type { Command, World } from "./cli/command.ts"
import { COMMANDS } from "./cli/index.ts"
import { openWorldGarden } from "./cli/known.ts"
import { gardenFiles } from "./files/garden-folder.ts"
import type { Entry } from "./garden/entry.ts"
import type { Handbook } from "./handbook/handbook.ts"
import { openHandbook } from "./handbook/open.ts"
import { openLogbook } from "./logging.ts"
import { readSettings, type Settings } from "./settings.ts"
import { openMemoryStore } from "./store/open.ts"
import { openReadOnly } from "./store/read-only.ts"
import { nearestWord } from "./values/nearest.ts"
import { CouldNot, type Problem, WrongInput } from "./values/problem.ts"

const DEFAULT_COMMAND = "run"
const SHARED = new URL("../shared/", import.meta.url)

/**
 * Runs the command that the words name (the bot, where they name none) and answers with the exit status: 0 fine, 1 could
 * not do it, 2 the input is wrong.
 */
export async function main(words: string[]): Promise<number> {
  // A reader of our output that goes away (`| head`) is no error of ours.
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(0)
    throw error
  })
  try {
    return await runWords(words)
  } catch (error) {
    return explain(error)
  }
}

async function runWords(words: string[]): Promise<number> {
  const named = words[0] !== undefined && !words[0].startsWith("-")
  if (words[0] === "--help" || words[0] === "-h" || words[0] === "help") return printHelp()
  if (words[0] === "--version") {
    process.stdout.write(`${version()}\n`)
    return 0
  }
  const command = await findCommand(named ? (words[0] as string) : DEFAULT_COMMAND)
  const rest = named ? words.slice(1) : words
  if (rest.includes("--help") || rest.includes("-h")) {
    process.stdout.write(`${command.usage}\n`)
    return 0
  }
  return command.run(rest, openWorld(readSettings(environment())))
}

async function findCommand(name: string): Promise<Command> {
  const names = Object.keys(COMMANDS)
  const load = names.includes(name) ? COMMANDS[name] : undefined
  if (load) return load()
  const nearest = nearestWord(name, names)
  const problem: Problem = {
    code: "unknown-command",
    place: null,
    field: "",
    found: `the command ${JSON.stringify(name)}`,
    expected: `one of ${names.join(", ")}`,
  }
  throw new WrongInput([nearest ? { ...problem, nearest } : problem])
}

async function printHelp(): Promise<number> {
  const commands = await Promise.all(Object.values(COMMANDS).map((load) => load()))
  const width = Math.max(...commands.map((command) => command.name.length))
  const lines = commands.map((command) => `  ${command.name.padEnd(width)}  ${command.summary}`)
  process.stdout.write(
    `Ryebell ${version()}: tells you when each bed's cover crop needs you, and learns from what you answer.\n\nusage: ryebell [COMMAND] [OPTIONS]   (without a command: run)\n\n${lines.join("\n")}\n\nryebell COMMAND --help says more about one.\n`,
  )
  return 0
}

/** The environment over the file `.env` where there is one. */
function environment(): Record<string, string | undefined> {
  try {
    process.loadEnvFile(".env")
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error
  }
  return process.env
}

function openWorld(settings: Settings): World {
  let handbook: Handbook | undefined
  const world: World = {
    settings,
    clock: openClock(settings.clock),
    handbook: () => {
      handbook ??= openHandbook(SHARED)
      return handbook
    },
    out: (text) => void process.stdout.write(`${text}\n`),
    err: (text) => void process.stderr.write(`${text}\n`),
    input: () => createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY }),
    read: readText,
    gardenFile: async () => oneGardenFile(settings.garden),
    storedEntries: (garden) => storedEntries(settings, garden),
    // Web, channels and engine are loaded by the bot alone.
    bot: async (options) => (await import("./assemble.ts")).openBot(world, options),
    known: (asked) => openWorldGarden(world, asked),
    paperHouse: async (garden, clock, weather, collect) =>
      paperHouse(
        {
          handbook: world.handbook(),
          store: openMemoryStore(),
          shelf: fixedShelf(garden),
          clock,
          weather: fixedWeather("as given", weather),
          log: openLogbook(settings.logLevel === "info" ? "error" : settings.logLevel),
        },
        collect,
      ),
  }
  return world
}

/** The log of a garden, read beside a running bot; empty where nothing was ever kept. */
async function storedEntries(settings: Settings, garden: string): Promise<Entry[]> {
  const store = await openReadOnly({ folder: settings.data, url: settings.databaseUrl })
  if (!store) return []
  try {
    return await store.entries(garden)
  } finally {
    await store.close()
  }
}

/** The one garden file that commands look at where none is named. */
function oneGardenFile(path: string): string {
  const files = gardenFiles(path)
  const [only, second] = files
  if (only === undefined) {
    throw new CouldNot(
      `There is no garden file at ${path}. Start the bot in a terminal (npm start) to be asked for one, or copy config/garden.yaml and change it.`,
    )
  }
  if (second !== undefined)
    throw new CouldNot(`${path} holds ${files.length} garden files; name one with --garden FILE.`)
  return only
}

async function readText(file: string): Promise<string> {
  try {
    return await readFile(file, "utf8")
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code
    const found =
      code === "ENOENT" ? "no such file" : code === "EISDIR" ? "a folder" : `a file that cannot be read (${code})`
    throw new WrongInput([{ code: "file", place: null, field: file, found, expected: "a file that can be read" }])
  }
}

function version(): string {
  return JSON.parse(readFileSync(new URL("../package.json", import.meta.url), "utf8")).version
}

/** Words for the person, a stack only for what is our own fault. */
function explain(error: unknown): number {
  if (error instanceof WrongInput) {
    process.stderr.write(`${error.message}\n`)
    return 2
  }
  if (error instanceof CouldNot) {
    process.stderr.write(`${error.message}\n`)
    return 1
  }
  process.stderr.write(
    `Ryebell met an error of its own; please report it with these lines.\n${error instanceof Error ? error.stack : String(error)}\n`,
  )
  return 1
}
