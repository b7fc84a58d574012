import { type FSWatcher, watch } from "node:fs"
import type { GardenShelf } from "../bot/needs.ts"
import type { Garden } from "../garden/garden.ts"
import { readGarden } from "../garden/read.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { CouldNot, type Problem, WrongInput } from "../values/problem.ts"
import { clashes } from "./garden-clashes.ts"
import { type GardenPlaceOnDisk, gardenPlace, type OnDisk, readOnDisk } from "./garden-folder.ts"

export type ShelfOptions = {
  /** A garden file, or a folder of them. */
  path: string
  handbook: Handbook
  /** Told once for each broken save, with what is wrong; the last good garden is kept. */
  onBroken?: (file: string, problems: readonly Problem[]) => void
  /** Told after each swap. */
  onSwap?: (garden: Garden, warnings: readonly Problem[]) => void
  /** A save is taken once the file has stood still so long: editors and copies write in several steps. */
  stillMs?: number
  /** A save that reads well but only lacks the end of the last one may be half a copy: it must stand so long. */
  cutMs?: number
  /** How often files are looked at without word from the system's watcher, which network folders never give. */
  pollMs?: number
}

export type OpenShelf = GardenShelf & {
  /** Warnings of the gardens as served. */
  warnings(): Problem[]
  /** Looks at the files now, as the watcher and the poll do by themselves. */
  look(): Promise<void>
  /** Stops watching; nothing is left running. The gardens stay. */
  close(): Promise<void>
}

/** One garden file: its last good state, what was last judged, and what waits to stand still. */
type Shelved = {
  file: string
  good: { garden: Garden; warnings: Problem[]; text: string } | null
  judged: string
  isBroken: boolean
  waiting: { mark: string; since: number } | null
}

/** The watcher of the system often speaks several times for one save. */
const GATHER_MS = 20

/**
 * Opens the garden files of a path and keeps them current: each save is read and proved whole before it takes the place of
 * the last good one, and a broken one is told once and changes nothing. WrongInput where a file is broken at the start,
 * CouldNot where there is none.
 */
export async function openGardenShelf(options: ShelfOptions): Promise<OpenShelf> {
  const place = gardenPlace(options.path)
  const shelved = await openAll(place, options)
  const shelf = new Watched(place, shelved, options)
  shelf.start()
  return shelf
}

async function openAll(place: GardenPlaceOnDisk, { path, handbook }: ShelfOptions): Promise<Map<string, Shelved>> {
  const shelved = new Map<string, Shelved>()
  const problems: Problem[] = []
  const gardens: { file: string; garden: Garden }[] = []
  for (const file of place.files()) {
    const found = await readOnDisk(file)
    if ("missing" in found) {
      problems.push(missing(file, found.missing))
      continue
    }
    const read = readGarden(found.text, file, handbook)
    if ("problems" in read) {
      problems.push(...read.problems)
      continue
    }
    problems.push(...clashes(read.garden, file, gardens))
    gardens.push({ file, garden: read.garden })
    const good = { garden: read.garden, warnings: read.warnings, text: found.text }
    shelved.set(file, { file, good, judged: found.mark, isBroken: false, waiting: null })
  }
  if (problems.length > 0) throw new WrongInput(problems)
  if (shelved.size === 0)
    throw new CouldNot(`There is no garden file in ${path}. Put one there (NAME.yaml), or set RYEBELL_GARDEN.`)
  return shelved
}

function missing(file: string, found: string): Problem {
  const place = { file, line: 1, column: 1 }
  return { code: "no-file", place, field: "", found, expected: "a garden file that can be read" }
}

class Watched implements OpenShelf {
  #watcher: FSWatcher | null = null
  #timer: NodeJS.Timeout | null = null
  #looking: Promise<void> | null = null
  #isClosed = false
  #version = 1
  readonly #place: GardenPlaceOnDisk
  readonly #shelved: Map<string, Shelved>
  readonly #options: ShelfOptions
  readonly #stillMs: number
  readonly #cutMs: number
  readonly #pollMs: number

  constructor(place: GardenPlaceOnDisk, shelved: Map<string, Shelved>, options: ShelfOptions) {
    this.#place = place
    this.#shelved = shelved
    this.#options = options
    this.#stillMs = options.stillMs ?? 1000
    this.#cutMs = options.cutMs ?? 10_000
    this.#pollMs = options.pollMs ?? 5000
  }

  all(): Garden[] {
    return [...this.#shelved.values()].flatMap(({ good }) => (good ? [good.garden] : []))
  }

  byId(id: string): Garden | undefined {
    return this.all().find((garden) => garden.id === id)
  }

  version(): number {
    return this.#version
  }

  warnings(): Problem[] {
    return [...this.#shelved.values()].flatMap(({ good }) => good?.warnings ?? [])
  }

  /** Watches the folder and not the file: a save by rename puts another file in its place. */
  start() {
    try {
      this.#watcher = watch(this.#place.folder, { persistent: false }, () => this.#arm(GATHER_MS))
      this.#watcher.on("error", () => this.#dropWatcher())
    } catch {
      // No watcher to be had (too many, or a file system without): the poll sees everything too, only later.
      this.#dropWatcher()
    }
    this.#arm(this.#pollMs)
  }

  #dropWatcher() {
    this.#watcher?.close()
    this.#watcher = null
  }

  /** The next look is in so many milliseconds, or sooner if it was to be sooner. */
  #arm(ms: number) {
    if (this.#isClosed) return
    if (this.#timer) clearTimeout(this.#timer)
    this.#timer = setTimeout(() => {
      this.#timer = null
      // Not even a fault of ours in reading may stop the bot: it is told like a broken file, and the last good one stays.
      this.look().catch((error: unknown) =>
        this.#options.onBroken?.(this.#options.path, [failed(error, this.#options.path)]),
      )
    }, ms).unref()
  }

  async look(): Promise<void> {
    while (this.#looking) await this.#looking
    if (this.#isClosed) return
    this.#looking = this.#lookAtAll()
    try {
      await this.#looking
    } finally {
      this.#looking = null
      this.#arm([...this.#shelved.values()].some(({ waiting }) => waiting) ? this.#stillMs : this.#pollMs)
    }
  }

  async #lookAtAll() {
    for (const file of this.#place.files()) {
      if (!this.#shelved.has(file))
        this.#shelved.set(file, { file, good: null, judged: "", isBroken: false, waiting: null })
    }
    let swapped = false
    for (const entry of this.#shelved.values()) {
      const found = await readOnDisk(entry.file)
      if (this.#isClosed) return
      if (!entry.good && "missing" in found) this.#shelved.delete(entry.file)
      else if (this.#isStill(entry, found)) swapped = this.#judge(entry, found, true) || swapped
    }
    if (swapped) await this.#judgeBrokenAgain()
  }

  /** Has a change stood still long enough to be judged? */
  #isStill(entry: Shelved, found: OnDisk): boolean {
    if (found.mark === entry.judged) {
      entry.waiting = null
      return false
    }
    const now = performance.now()
    if (entry.waiting?.mark !== found.mark) entry.waiting = { mark: found.mark, since: now }
    const wait =
      "text" in found && lacksOnlyTheEnd(found.text, entry) && this.#reads(entry, found.text)
        ? this.#cutMs
        : this.#stillMs
    return now - entry.waiting.since >= wait
  }

  #reads(entry: Shelved, text: string): boolean {
    return "garden" in readGarden(text, entry.file, this.#options.handbook)
  }

  /** Takes a save if it is whole; true where it did. Tells a broken one where `tell` says so. */
  #judge(entry: Shelved, found: OnDisk, tell: boolean): boolean {
    entry.judged = found.mark
    entry.waiting = null
    const read =
      "missing" in found ? { problems: [missing(entry.file, found.missing)] } : this.#readWhole(entry, found.text)
    entry.isBroken = "problems" in read
    if ("problems" in read) {
      if (tell) this.#options.onBroken?.(entry.file, read.problems)
      return false
    }
    entry.good = read
    this.#version += 1
    this.#options.onSwap?.(read.garden, read.warnings)
    return true
  }

  #readWhole(entry: Shelved, text: string) {
    if (lacksOnlyTheEnd(text, entry) && !text.endsWith("\n")) return { problems: [cutOff(entry.file, text)] }
    const read = readGarden(text, entry.file, this.#options.handbook)
    if ("problems" in read) return read
    const others = [...this.#shelved.values()].filter((other) => other !== entry)
    const gardens = others.flatMap(({ file, good }) => (good ? [{ file, garden: good.garden }] : []))
    const problems = clashes(read.garden, entry.file, gardens)
    return problems.length > 0 ? { problems } : { ...read, text }
  }

  /** What clashed with another garden may not clash with its new state: a phone moved from one file to the next. */
  async #judgeBrokenAgain() {
    for (const entry of this.#shelved.values()) {
      if (!entry.isBroken) continue
      const found = await readOnDisk(entry.file)
      if (!this.#isClosed && found.mark === entry.judged) this.#judge(entry, found, false)
    }
  }

  async close(): Promise<void> {
    this.#isClosed = true
    if (this.#timer) clearTimeout(this.#timer)
    this.#timer = null
    this.#dropWatcher()
    await this.#looking
  }
}

/** Is this the last good text with its end cut off? A bed taken out at the end looks so too, hence the longer wait. */
function lacksOnlyTheEnd(text: string, { good }: Shelved): boolean {
  return good !== null && text.length < good.text.length && good.text.startsWith(text)
}

function cutOff(file: string, text: string): Problem {
  const lines = text.split("\n")
  return {
    code: "cut-off",
    place: { file, line: lines.length, column: (lines.at(-1)?.length ?? 0) + 1 },
    field: "",
    found: "the last good file with its end cut off within a line",
    expected: "the whole file, or an end of line at its end where it is meant to be shorter",
  }
}

function failed(error: unknown, file: string): Problem {
  const found = error instanceof Error ? error.message : String(error)
  return {
    code: "reader-failed",
    place: { file, line: 1, column: 1 },
    field: "",
    found,
    expected: "a file that can be read",
  }
}
