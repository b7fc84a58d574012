/** What the bot needs of the world, as narrow as it is used. Effects implement these; the bot's procedures only know them. */
import type { DailyWeather } from "../agronomy/weather-series.ts"
import type { Entry, NewEntry, Told, Via } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import type { Instant } from "../values/instant.ts"
import type { Zone } from "../values/zone.ts"
import type { Attribution } from "../wording/digest-facts.ts"

export type { Attribution } from "../wording/digest-facts.ts"

/** When a reminder speaks next to a person: the delivery's view of it. Dropping the table loses nothing: `replan` fills it again. */
export type ReminderRow = { id: string; person: string; speaksAt: Instant }

/** A person to whom something is due, held by a lease so that all that is due makes one text. */
export type DuePerson = { garden: string; person: string; reminders: string[]; lease: string }

/** A file that goes with a mail. */
export type Enclosure = { name: string; type: string; base64: string; cid?: string }

export type OutgoingKind = "nudge" | "answer" | "digest" | "service"

/** A reminder as a message tells it; one that only a weekly mail told has no number. */
export type Telling = Omit<Told, "n"> & { n?: number }

/** A message to one person, durable before it is tried. `key` is our own and unique: queued twice it is there once. */
export type NewOutgoing = {
  key: string
  garden: string
  person: string
  kind: OutgoingKind
  channel: "text" | "mail"
  /** Phone in E.164 or mail address. */
  to: string
  subject?: string
  text: string
  html?: string
  enclosures?: Enclosure[]
  /** Headers of a mail beyond the usual: threading, unsubscribe. */
  headers?: Record<string, string>
  /** The reminders it tells; in a weekly mail also those that have no number yet. */
  told: Telling[]
  /** The last number of the garden's log when the message was made. */
  seen?: number
  /** Sequence number of the reply that this answers. */
  answers?: number
  notBefore: Instant
  /** Worthless after this instant: it lapses instead of going late. */
  goodUntil: Instant
}

export type OutgoingState = "waiting" | "sending" | "sent" | "failed" | "dropped"

export type Outgoing = NewOutgoing & {
  state: OutgoingState
  attempts: number
  /** The next try. */
  dueAt: Instant
  carrierId: string | null
  /** The last word of the carrier: queued, sent, delivered, undelivered. */
  fate: string | null
  lastError: string | null
  /** The last number of the garden's log when the message was claimed, where the store tells it. */
  logAt?: number
}

/** What became of a try to send. */
export type SendOutcome =
  | { is: "sent"; carrierId: string | null }
  /** Refused or lost in a way that may pass: try again at `dueAt`. */
  | { is: "later"; dueAt: Instant; code: string; text: string }
  /** Not known whether it went: ask the carrier's list before any resend. */
  | { is: "unknown"; dueAt: Instant; code: string; text: string }
  /** Refused for good. `hold`: nothing more to this channel of this person, since it is gone or they told the carrier to stop. */
  | { is: "failed"; code: string; text: string; hold?: "held" | "stopped" }
  | { is: "dropped"; code: string; text: string }

export type Media = { url: string; type: string }

/** A message from outside, exactly as it came. `id` is the carrier's: the same id twice is the same message. */
export type Incoming = {
  id: string
  via: Via
  from: string
  to: string
  text: string
  at: Instant
  media: Media[]
  extra?: Record<string, string>
}

/** An incoming message that was kept and is not applied yet. */
export type KeptIncoming = Incoming & { attempts: number }

/** A garden that is served. `mark` stands for all that its plan follows from besides log, day and weather. */
export type ServedGarden = { id: string; mark: string }

/** A garden that no file has: the store keeps the text of its garden file. `host`: the garden whose invite word led to it. */
export type NewKeptGarden = { id: string; host: string | null; text: string }

/** `edition` counts all changes of all kept gardens. */
export type KeptGarden = NewKeptGarden & { edition: number }

/** Nothing was written, since a garden's log has moved on from where the caller had seen it: look again, and decide again. */
export class LogMovedOn extends Error {
  constructor(message: string, options?: ErrorOptions) {
    super(message, options)
    this.name = "LogMovedOn"
  }
}

/** How far a garden's log had gone when somebody decided upon it. */
export type Seen = { garden: string; seq: number }

/**
 * Where a verb takes `seen`, the caller decided upon the log as it stood there (null or absent: wherever it stands). Where the
 * log has moved on since, nothing is written and a LogMovedOn is thrown: two workers that look at one plan do not both move it.
 */
export interface Store {
  /** Every entry of a garden's log after `seq` (all where it is omitted), oldest first. */
  entries(garden: string, after?: number): Promise<Entry[]>
  /** Adds entries in one durable transaction; numbers them. */
  append(entries: readonly NewEntry[], seen?: Seen | null): Promise<Entry[]>
  /** Keeps a message before anything tries to understand it; `repeat` where its id is known. */
  keepIncoming(incoming: Incoming): Promise<"new" | "repeat">
  /** The oldest kept message that is not applied and not held by a lease; counts the attempt. */
  claimIncoming(now: Instant, leaseMs: number): Promise<KeptIncoming | null>
  /**
   * In one transaction: the entries a message led to, the messages that answer it, and the mark that it is applied.
   * Nothing is written, and no entry comes back, where it was applied before.
   */
  settleIncoming(
    id: string,
    entries: readonly NewEntry[],
    outgoing: readonly NewOutgoing[],
    seen?: Seen | null,
  ): Promise<Entry[]>
  /**
   * Says which gardens are served. New ones, and those whose mark is another than before, are due to be looked after at
   * once; those named `gone` (or all others) are looked after no more. Their logs stay.
   */
  serve(gardens: readonly ServedGarden[], gone: readonly string[] | "all others"): Promise<void>
  /**
   * Served gardens to look after, leased, the longest due first: entries came into their log since they were last looked
   * after, or the time set then has come.
   */
  claimGardens(now: Instant, leaseMs: number, most: number): Promise<string[]>
  /**
   * Ends the lease of a garden that was looked after as its log stood at `seq`: due again at `next`, or at once where
   * entries came in meanwhile.
   */
  lookedAfter(garden: string, seq: number, next: Instant): Promise<void>
  /**
   * Keeps a garden under its id; `before`: the edition in whose place it comes, null where there is none. A LogMovedOn is
   * thrown where another stands there.
   */
  keepGarden(garden: NewKeptGarden, before: number | null): Promise<KeptGarden>
  /** Kept gardens of editions after that one, in their order: with 0 all of them. */
  keptGardens(after: number): Promise<KeptGarden[]>
  /** The garden's open reminders, all of them: others of that garden are closed. Leases are left alone. */
  placeReminders(garden: string, rows: readonly ReminderRow[]): Promise<void>
  /**
   * The earliest person with something due at `now`, leased. A person whose last nudge is still on its way is passed over:
   * what is due to them waits until it is known what they were told.
   */
  claimPerson(now: Instant, leaseMs: number): Promise<DuePerson | null>
  /**
   * In one transaction: queues messages (a known key is left alone), moves or closes (`speaksAt: null`) the reminders that
   * they said, adds entries and gives the lease back. False where the lease was lost: nothing is written then.
   */
  settlePerson(
    due: DuePerson,
    outgoing: readonly NewOutgoing[],
    moved: readonly { id: string; person: string; speaksAt: Instant | null }[],
    entries: readonly NewEntry[],
    seen?: Seen | null,
  ): Promise<boolean>
  /** Queues messages that no reminder stands behind; a known key is left alone. Returns the keys that were new. */
  queue(outgoing: readonly NewOutgoing[]): Promise<string[]>
  /**
   * The earliest message whose time has come, answers before all others (somebody waits for them), marked `sending` under a
   * lease; counts the attempt.
   */
  claimOutgoing(now: Instant, leaseMs: number): Promise<Outgoing | null>
  /** Records what became of a try, with the entries that tell it, in one transaction. False where a later attempt took over. */
  settleOutgoing(key: string, attempt: number, outcome: SendOutcome, entries: readonly NewEntry[]): Promise<boolean>
  outgoing(key: string): Promise<Outgoing | null>
  /** Messages left in `sending` by a try that never came back (its lease is over). */
  unsettledOutgoing(now: Instant): Promise<Outgoing[]>
  /** Moves the carrier's word on a message forward: never back, never past an end. False where nothing moved. */
  recordFate(key: string, fate: string, code: string | null): Promise<boolean>
  /** Small things to remember by name: the last tick, a mailbox's place, cached weather, what was last told. */
  recall(name: string): Promise<string | null>
  remember(name: string, value: string): Promise<void>
  /** Adds to a count by name, which begins at 0, and gives it. */
  tally(name: string, more: number): Promise<number>
  /** How much waits: messages out, messages in, reminders open. */
  depth(): Promise<{ outgoing: number; incoming: number; reminders: number }>
  /** Writes and reads a probe; throws where the store is not sound. */
  probe(): Promise<void>
  close(): Promise<void>
}

/** Sends one message. Never throws for what the other side did: that is an outcome. */
export interface Channel {
  /** How the log names it. */
  via: Via
  /** How many messages it may be given at the same time; one where it does not say. */
  atOnce?: number
  send(message: Outgoing, now: Instant): Promise<SendOutcome>
  /** Did the carrier take the message with this key? null: it cannot be asked. */
  wasTaken?(message: Outgoing): Promise<{ taken: boolean; carrierId: string | null } | null>
}

export interface WeatherSource {
  name: string
  /** Who must be named, and linked, beside its figures. */
  attribution: Attribution | null
  /**
   * Measured days and forecast as known at `now`; null: it has nothing for this place. The same object as long as nothing
   * changed. `zone`: where days begin and end. `asOf`: when the last good answer came.
   */
  daily(
    place: { lat: number; lon: number; elev_m: number | null; zone?: Zone },
    now: Instant,
  ): Promise<{ observed: DailyWeather | null; forecast: DailyWeather | null; asOf?: Instant } | null>
  /** What is wrong with it now, though it goes on with what it kept; null: all is well. */
  trouble?(): string | null
}

export interface Clock {
  now(): Instant
}

/** The gardens that are served, as last read in good order. */
export interface GardenShelf {
  all(): Garden[]
  byId(id: string): Garden | undefined
  /** Changes whenever any garden does. */
  version(): number
  /** Takes in what others have changed since, where gardens are kept by the store. */
  refresh?(): Promise<void>
  /** A garden as the store keeps it; null: a file has it, or there is none. */
  keptAs?(garden: string): KeptGarden | null
  /** Gardens that came by the invite word of this one; absent: there are none. */
  guestsOf?(garden: string): Garden[]
}

/** A piece of work as an engine hands it to one of several workers. It is a hint: what there is to do stands in the store. */
export type Job =
  | { kind: "replan"; garden: string }
  | { kind: "digest"; garden: string; person: string }
  | { kind: "deliver"; lane: number }
  | { kind: "send"; lane: number }
  | { kind: "weather" }

/** What a worker may ask of the engine that gave it a job. */
export type Engine = {
  /** Queues jobs; one that is queued or under way already is not queued again. */
  hand(jobs: readonly Job[]): Promise<void>
  /** False where the job should come to an end soon: the process stops, or others wait for their turn. */
  goOn(): boolean
}

/** One of several workers on one store. */
export interface Worker {
  /** Each worker's own, once a minute: what it has to know of the others. */
  beat(): Promise<void>
  /** One of all workers, once a minute: finds out what there is to do. */
  minute(engine: Engine): Promise<void>
  /** Throws where it failed and should be tried again. */
  do(job: Job, engine: Engine): Promise<void>
}
