import type { DailyWeather, KnownWeather } from "../agronomy/weather-series.ts"
import type { Desk } from "../bot/desk.ts"
import type { House } from "../bot/house.ts"
import type { Clock, Worker } from "../bot/needs.ts"
import type { OnPaper } from "../channels/paper.ts"
import type { Entry } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import type { History } from "../garden/history.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { Settings } from "../settings.ts"
import type { Day } from "../values/day.ts"

/** What a command may ask about a garden; every part has a default from the settings. */
export type Asked = {
  garden?: string | undefined
  log?: string | undefined
  weather?: string | undefined
  on?: Day | undefined
  /** Leave the store alone: no entries. */
  empty?: boolean
}

/** All that is known of a garden on a day: what `planGarden` takes, and the log behind it. */
export type KnownGarden = {
  handbook: Handbook
  garden: Garden
  entries: Entry[]
  history: History
  weather: KnownWeather
  on: Day
}

/** The bot while it runs. */
export type RunningBot = {
  house: House
  desk: Desk
  /** The same work in pieces, where several processes share it. */
  worker: Worker
  clock: Clock
  /** Signed links of a person, where pages are served. */
  season: House["links"]
  /** Which channels are on, in a sentence. */
  channels: string
  /** What the owner should know now: warnings of the garden file and of the store. */
  notices: string[]
  /** Resolves where the store breaks for good. */
  broken: Promise<Error>
  close(): Promise<void>
}

/**
 * `example`: the example garden instead of the one that is set. `endHold`: what holds back messages ends. `isFirst`: the garden
 * file was made a moment ago, so that nothing can be missing from before.
 */
export type BotOptions = {
  example: boolean
  endHold: boolean
  isFirst: boolean
  terminal: { line(text: string): void }
}

/** What a command is given: the settings, the border of the program, and readers that fail with typed errors. */
export type World = {
  settings: Settings
  clock: Clock
  handbook(): Handbook
  /** One line on standard output. */
  out(text: string): void
  /** One line on standard error. */
  err(text: string): void
  /** Lines of standard input. */
  input(): AsyncIterable<string>
  /** Garden, log, weather and day as asked for, else as set. WrongInput where a file is wrong. */
  known(asked: Asked): Promise<KnownGarden>
  /** The garden file that is set; CouldNot where there is none, WrongInput where the setting names a folder of several. */
  gardenFile(): Promise<string>
  /** The log of a garden as the store holds it, read while the bot may be running; empty where there is no store yet. */
  storedEntries(garden: string): Promise<Entry[]>
  /** The whole bot as the settings have it, with its real store and channels. */
  bot(options: BotOptions): Promise<RunningBot>
  /** The text of a file; WrongInput where it cannot be read. */
  read(file: string): Promise<string>
  /** The whole bot on paper: a store in memory, channels that collect, weather that is known beforehand but looked at day by day. */
  paperHouse(
    garden: Garden,
    clock: Clock,
    weather: DailyWeather | null,
    collect: (sent: OnPaper) => void,
  ): Promise<House>
}

/** One command of the program. `run` answers with the exit status; WrongInput becomes 2 and CouldNot 1 by themselves. */
export type Command = {
  name: string
  /** One line for the list of commands. */
  summary: string
  /** The text of `--help`. */
  usage: string
  run(args: string[], world: World): Promise<number>
}
