import { join } from "node:path"
import { fileURLToPath } from "node:url"
import { openWire, type Wire } from "./assemble-channels.ts"
import { needsOwner, openHeld } from "./assemble-held.ts"
import { fixedShelf, openClock, terminalHouse } from "./assemble-house.ts"
import { healthOf, linkMaker, secretOf, webNeeds } from "./assemble-web.ts"
import { type Desk, openDesk } from "./bot/desk.ts"
import type { House, Logbook } from "./bot/house.ts"
import { knownWeather } from "./bot/known.ts"
import { mindedLog } from "./bot/minded.ts"
import type { Clock, GardenShelf, Store, Worker } from "./bot/needs.ts"
import { sharedClock } from "./bot/shared-clock.ts"
import { openWorker } from "./bot/worker.ts"
import { printable, type Terminal } from "./channels/terminal.ts"
import type { BotOptions, RunningBot, World } from "./cli/command.ts"
import { editionOf } from "./files/edition.ts"
import { openGardenShelf } from "./files/garden-shelf.ts"
import { NO_FILES, noFiles, openKeptShelf } from "./files/kept-shelf.ts"
import { exampleGarden } from "./garden/example-file.ts"
import { readGarden } from "./garden/read.ts"
import { openLogbook, plainLines } from "./logging.ts"
import type { Settings } from "./settings.ts"
import { openMemoryStore, openStore } from "./store/open.ts"
import type { OpenedStore } from "./store/opened.ts"
import { CouldNot, showProblem, WrongInput } from "./values/problem.ts"
import { instantAt, localDay, type Minutes } from "./values/zone.ts"
import { type OpenWeather, openWeather } from "./weather/open.ts"
import { openAlive } from "./web/alive.ts"
import { organiserLink } from "./web/link.ts"
import { startWeb, type Web } from "./web/server.ts"

/** Under this name a store remembers why nothing may be sent. */
const HOLD = "hold"
/** What a plan is made by: this program's own files, and the handbook's. */
const MAKERS = ["./", "../shared/"].map((folder) => fileURLToPath(new URL(folder, import.meta.url)))
const EXAMPLE = new URL("../config/garden.yaml", import.meta.url)

const NO_GARDENS: GardenShelf = { all: () => [], byId: () => undefined, version: () => 1 }

/**
 * The bot as the settings have it. `example`: the example garden with its days moved to today, a clock that starts at
 * eight in the morning there, and a store in memory, so that a stranger sees a text at once and nothing is kept.
 */
export async function openBot(world: World, options: BotOptions): Promise<RunningBot> {
  if (options.example) return openExample(world, options.terminal)
  try {
    return await openSet(world, options.terminal, options)
  } catch (error) {
    if (!needsOwner(error)) throw error
    const log = openLog(world.settings, options.terminal)
    const nothing = { store: openMemoryStore(), shelf: NO_GARDENS, weather: null, log }
    const parts = { handbook: world.handbook(), clock: world.clock, ...nothing }
    return openHeld(world, terminalHouse(parts, options.terminal, world.settings.data, null), error)
  }
}

/** At a terminal the log is told in words between the texts; elsewhere programs read it. */
function openLog({ logLevel }: Settings, terminal: Terminal): Logbook {
  return process.stderr.isTTY
    ? openLogbook(
        logLevel,
        plainLines((text) => terminal.line(text)),
      )
    : openLogbook(logLevel)
}

async function openSet(
  world: World,
  terminal: Terminal,
  options: Pick<BotOptions, "endHold" | "isFirst">,
): Promise<RunningBot> {
  const { settings } = world
  const handbook = world.handbook()
  const log = openLog(settings, terminal)
  const files =
    settings.garden === NO_FILES
      ? noFiles()
      : await openGardenShelf({
          path: settings.garden,
          handbook,
          onBroken: (file, problems) => {
            terminal.line(`${file} was saved with something wrong; the last good one goes on until it is mended:`)
            for (const problem of problems) terminal.line(`  ${showProblem(problem)}`)
          },
          onSwap: (garden) => terminal.line(`The garden file was read again: ${printable(garden.name)}.`),
        })
  const store = await openStore({ folder: settings.data, url: settings.databaseUrl }).catch(async (error) => {
    await files.close()
    throw error
  })
  const shared = store.time
    ? await sharedClock(world.clock, { ...store, time: store.time }, settings.clock?.speed ?? null)
    : null
  const clock = shared ?? world.clock
  const shelf = await openKeptShelf({
    files,
    store,
    handbook,
    onBroken: (garden, problems) =>
      log.error(
        { garden, problems: problems.map(showProblem) },
        "a kept garden cannot be read; the last good one goes on",
      ),
  })
  const weather = await openSetWeather(world, store)
  const parts = { handbook, store, shelf, clock, weather, log }
  const house = terminalHouse(parts, terminal, settings.data, settings.mailFrom)
  // Of many workers each one that starts would have all gardens planned anew; alone it costs nothing.
  if (settings.databaseUrl !== null) house.memory.served.edition = editionOf(MAKERS)
  const notices = [
    ...(await holdOf(house, options.endHold)),
    ...(options.isFirst ? [] : newNotice(store, shelf, clock, settings)),
  ]
  const secret = secretOf(settings.secretKey, settings.data)
  const isForgetful = store.isNew || house.hold.reason !== null
  const wire = await openWire({ house, clock, settings, secret, folder: settings.data, isForgetful }, () => desk)
  const { desk, web } = await serve(house, clock, settings, settings.data, wire)
  wire.start()
  const closing = new AbortController()
  const alive = signOf(house, clock, settings, wire, closing.signal)
  return {
    house,
    desk: withCatchUp(desk, wire, alive),
    worker: withCatchUpFirst(openWorker(house, shared ?? undefined), wire, alive),
    clock,
    season: house.links,
    channels: wire.words,
    notices: [...notices, ...files.warnings().map((warning) => `note: ${showProblem(warning)}`), ...store.notices()],
    broken: store.broken,
    async close() {
      closing.abort()
      await web.close()
      await wire.close()
      weather?.close?.()
      await weather?.idle?.()
      await files.close()
      await store.close()
    },
  }
}

/** A restored store starts on hold, so that last week is not said again; the owner ends it when they have looked. */
async function holdOf(house: House, end: boolean): Promise<string[]> {
  const reason = (await house.store.recall(HOLD)) ?? ""
  if (reason === "") return []
  if (end) {
    await house.store.remember(HOLD, "")
    return ["The hold has ended; what is due is sent again."]
  }
  house.hold.reason = reason
  return [`Nothing is sent: ${reason}. Look at the plan and the log, then start with: npm start -- --end-hold`]
}

/** A data folder that holds nothing although the garden has a past may be the wrong one, or not be mounted. */
function newNotice(store: OpenedStore, shelf: GardenShelf, clock: Clock, settings: Settings): string[] {
  const past = shelf.all().some((garden) => {
    const today = localDay(clock.now(), garden.place.zone)
    return garden.beds.some((bed) => bed.sowings.some((sowing) => sowing.sown !== null && sowing.sown < today))
  })
  if (!store.isNew || !past) return []
  const [what, setting] =
    settings.databaseUrl === null
      ? [`data folder ${settings.data}`, "RYEBELL_DATA to its folder"]
      : ["database", "DATABASE_URL to its database"]
  return [
    `The ${what} is new: nothing that was said or answered before is known. If this garden was served already, stop and set ${setting}.`,
  ]
}

/** After each minute of each process a watcher hears that all is well, where the owner has one. No minute waits for it. */
function signOf(house: House, clock: Clock, { aliveUrl }: Settings, wire: Wire, closing: AbortSignal): () => void {
  if (aliveUrl === null) return () => {}
  const { errors } = house.memory
  const give = openAlive({
    url: aliveUrl,
    closing,
    health: () => healthOf(house, clock, wire.trouble()),
    note: (trouble) => (trouble === null ? errors.delete("alive") : errors.set("alive", trouble)),
  })
  return () => void give()
}

/** Each tick first takes in what the carrier has and its webhooks did not bring. */
function withCatchUp(desk: Desk, wire: Wire, alive: () => void): Desk {
  return {
    ...desk,
    async tick() {
      await wire.catchUp()
      await desk.tick()
      alive()
    },
  }
}

/** The same for the worker that has the minute. */
function withCatchUpFirst(worker: Worker, wire: Wire, alive: () => void): Worker {
  return {
    ...worker,
    async beat() {
      await worker.beat()
      alive()
    },
    async minute(engine) {
      await wire.catchUp()
      await worker.minute(engine)
    },
  }
}

async function openSetWeather(world: World, store: Store): Promise<OpenWeather | null> {
  const { weather, weatherApiUrl, mailFrom, publicUrl } = world.settings
  return openWeather({
    kind: weather,
    apiUrl: weatherApiUrl,
    recall: (name) => store.recall(name),
    remember: (name, value) => store.remember(name, value),
    read: (path) => world.read(path),
    contact: mailFrom ?? publicUrl,
    normals: ({ lat, lon, elev_m }) =>
      world.handbook().climates.at({ lat, lon, ...(elev_m === null ? {} : { elev_m }) }),
  })
}

/** Opens the desk and the pages of a house, and gives it the links that lead to them. */
async function serve(
  house: House,
  clock: Clock,
  settings: Settings,
  folder: string,
  wire: Pick<Wire, "more" | "trouble"> = { more: undefined, trouble: () => ({}) },
): Promise<{ desk: Desk; web: Web }> {
  const desk = openDesk(house, clock, settings.databaseUrl === null ? "alone" : "one of many")
  const secret = secretOf(settings.secretKey, folder)
  const { host, publicUrl } = settings
  const listen = (port: number) =>
    startWeb(webNeeds({ house, desk, clock, folder, secret, host, port, publicUrl, wire }))
  const web = await listen(settings.port).catch((error) => {
    if ((error as NodeJS.ErrnoException).code !== "EADDRINUSE") throw error
    if (settings.portNamed)
      throw new CouldNot(`Port ${settings.port} is taken by another program. Set PORT to a free one.`)
    return listen(0)
  })
  house.links = linkMaker(publicUrl ?? web.url, secret, clock)
  house.overviewLink = (garden, person) =>
    organiserLink(publicUrl ?? web.url, { garden: garden.id, person: person.id }, clock.now(), [secret])
  return { desk, web }
}

/** A morning at which the example's first texts go out. */
const EXAMPLE_STARTS: Minutes = 8 * 60

async function openExample(world: World, terminal: Terminal): Promise<RunningBot> {
  const { settings } = world
  const handbook = world.handbook()
  const file = fileURLToPath(EXAMPLE)
  const read = readGarden(await world.read(file), file, handbook)
  if ("problems" in read) throw new WrongInput(read.problems)
  const { zone } = read.garden.place
  const today = localDay(world.clock.now(), zone)
  const garden = exampleGarden(read.garden, today)
  const clock = openClock({ start: instantAt(today, EXAMPLE_STARTS, zone), speed: settings.clock?.speed ?? 1 })
  const store = openMemoryStore()
  await store.append(mindedLog(handbook, garden, knownWeather(handbook, garden, null), today))
  const parts = {
    handbook,
    store,
    shelf: fixedShelf(garden),
    clock,
    weather: null,
    log: openLog(settings, terminal),
  }
  const folder = join(settings.data, "example")
  const house = terminalHouse(parts, terminal, folder, null)
  const { desk, web } = await serve(house, clock, settings, folder)
  return {
    house,
    desk,
    worker: openWorker(house),
    clock,
    season: house.links,
    channels:
      "This is the example garden. Its people are made up; texts appear here, nothing is sent, and what you type is gone at the end.",
    notices: [],
    broken: new Promise(() => {}),
    async close() {
      await web.close()
      await store.close()
    },
  }
}
