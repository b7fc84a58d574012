import { join } from "node:path"
import type { DailyWeather } from "./agronomy/weather-series.ts"
import { freshMemory, type House, type Logbook, type Pictures } from "./bot/house.ts"
import type { Clock, GardenShelf, Outgoing, Store, WeatherSource } from "./bot/needs.ts"
import { chartPng } from "./channels/chart-png.ts"
import { composeMail } from "./channels/mail-compose.ts"
import { type OnPaper, paperChannel } from "./channels/paper.ts"
import { type Terminal, terminalMails, terminalTexts } from "./channels/terminal.ts"
import type { Garden } from "./garden/garden.ts"
import type { Handbook } from "./handbook/handbook.ts"
import { prepareWords } from "./replies/vocabulary.ts"
import type { Settings } from "./settings.ts"
import { type Instant, instantOf } from "./values/instant.ts"
import { DIGEST_PICTURE } from "./wording/digest.ts"
import { measure } from "./wording/segments.ts"

/** Address that mails come from while no mail server is set. */
const NO_SENDER = "ryebell@localhost.invalid"

/** The clock of the machine, or the one of a trial that starts elsewhere and may run fast. */
export function openClock(trial: Settings["clock"]): Clock {
  if (!trial) return { now: () => instantOf(Date.now()) }
  const began = performance.now()
  return { now: () => instantOf(trial.start + (performance.now() - began) * trial.speed) }
}

/** A shelf with one garden that nobody edits. */
export function fixedShelf(garden: Garden): GardenShelf {
  return { all: () => [garden], byId: (id) => (id === garden.id ? garden : undefined), version: () => 1 }
}

/** Weather that was read before: the same object each time, so that nothing is reckoned twice. */
export function fixedWeather(name: string, observed: DailyWeather | null): WeatherSource | null {
  if (!observed) return null
  const daily = { observed, forecast: null }
  return { name, attribution: null, daily: async () => daily }
}

/** The season picture as the inline PNG that a weekly mail refers to. */
const seasonPicture: Pictures = async (mail) => [
  { name: "season.png", type: "image/png", base64: chartPng(mail.svg).toString("base64"), cid: DIGEST_PICTURE },
]

export type HouseParts = {
  handbook: Handbook
  store: Store
  shelf: GardenShelf
  clock: Clock
  weather: WeatherSource | null
  log: Logbook
}

/** The whole bot on paper: nothing leaves, everything that would is collected. */
export function paperHouse(parts: HouseParts, collect: (sent: OnPaper) => void): House {
  const channel = paperChannel(collect)
  return { ...bare(parts), text: channel, mail: channel, pictures: async () => [] }
}

/** The bot at a terminal: texts are printed, mails written as files below `folder`. */
export function terminalHouse(parts: HouseParts, terminal: Terminal, folder: string, sender: string | null): House {
  const compose = (message: Outgoing, now: Instant) => composeMail(message, sender ?? NO_SENDER, new Date(now))
  const nameOf = (garden: string, person: string) =>
    parts.shelf.byId(garden)?.people.find((each) => each.id === person)?.name ?? person
  return {
    ...bare(parts),
    text: terminalTexts(terminal, measure, nameOf),
    mail: terminalMails(terminal, join(folder, "mail"), compose, nameOf),
    pictures: seasonPicture,
  }
}

function bare(parts: HouseParts): Omit<House, "text" | "mail" | "pictures"> {
  return {
    ...parts,
    words: once(() => prepareWords(parts.handbook)),
    photos: null,
    links: null,
    stopAddress: null,
    hold: { reason: null },
    memory: freshMemory(),
  }
}

/** What takes long to make and may never be wanted: made at the first call. */
function once<Value>(make: () => Value): () => Value {
  let made: { value: Value } | undefined
  return () => {
    made ??= { value: make() }
    return made.value
  }
}
