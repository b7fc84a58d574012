import type { Day } from "../values/day.ts"
import { localDay, type Zone } from "../values/zone.ts"
import type { Act, ActOf } from "./acts.ts"
import { effective } from "./effective.ts"
import { type Entry, type EntryOf, type ReminderKind, reminderKindSchema, type Told } from "./entry.ts"
import type { ChannelState, History, ReminderRecord } from "./facts.ts"
import { closed, fileSowing, nearestSowing, type OpenRecord, openRecords, resow, sow, sowingOn } from "./filing.ts"
import type { Garden, Then } from "./garden.ts"

export type { ChannelState, Fact, FactName, FactOf, History, ReminderRecord, SowingRecord } from "./facts.ts"

type OpenReminder = Omit<ReminderRecord, "said"> & { said: ReminderRecord["said"][number][] }

/** Everything being read, before it is closed into a History. */
type Reading = {
  zone: Zone
  beds: Map<string, OpenRecord[]>
  reminders: Map<string, OpenReminder>
  /** By person, the reminder that each number was last said for. */
  numbers: Map<string, Map<number, string>>
  rain: { value_mm: number; on: Day; seq: number }[]
  paused: Map<string, { until: Day | null; seq: number }>
  channels: Map<string, { text: ChannelState; mail: ChannelState }>
  orphans: { seq: number; named: string; nearest: string | null }[]
  /** Beds that were left out: what was said of them is no stray. */
  dropped: Set<string>
}

/**
 * Reads the log as facts about the garden's sowings and reminders. Pure: the same garden and entries give the same
 * history. For an earlier day give the entries up to it (`entriesUpTo`).
 */
export function readHistory(entries: readonly Entry[], garden: Garden): History {
  const reading: Reading = {
    zone: garden.place.zone,
    beds: new Map(garden.beds.map((bed) => [bed.id, openRecords(bed.sowings)])),
    reminders: new Map(),
    numbers: new Map(),
    rain: [],
    paused: new Map(),
    channels: new Map(garden.people.map((person) => [person.id, { text: "open", mail: "open" }])),
    orphans: [],
    dropped: new Set(),
  }
  for (const entry of effective(entries)) readEntry(entry, reading)
  return {
    beds: new Map([...reading.beds].map(([id, records]) => [id, closed(records)])),
    reminders: reading.reminders,
    rain: reading.rain,
    paused: reading.paused,
    channels: reading.channels,
    orphans: reading.orphans.filter(({ named }) => !reading.dropped.has(bedOfReminder(named))),
  }
}

/** `bed:day`, the sowing that a reminder's id belongs to. */
export function sowingOfReminder(reminder: string): string {
  return reminder.split(":").slice(0, 2).join(":")
}

/** The kind of a reminder, from its id; null where the id is none of ours. */
function kindOfReminder(reminder: string): ReminderKind | null {
  const kind = reminderKindSchema.safeParse(reminder.split(":")[2])
  return kind.success ? kind.data : null
}

function bedOfReminder(reminder: string): string {
  return reminder.split(":")[0] as string
}

function readEntry(entry: Entry, reading: Reading): void {
  switch (entry.kind) {
    case "reply":
      for (const act of entry.acts) readAct(act, entry, reading)
      return
    case "sent":
      for (const told of entry.told) readTold(told, entry, reading)
      return
    case "lapsed": {
      const kind = kindOfReminder(entry.of)
      if (kind)
        reminderOf(entry.of, kind, bedOfReminder(entry.of), reading).lapsed = { seq: entry.seq, because: entry.because }
      return
    }
    case "channel": {
      const channels = channelsOf(entry.person, reading)
      if (entry.state !== "confirmed") channels[entry.channel] = entry.state === "started" ? "open" : entry.state
      return
    }
    case "undo":
    case "answer":
    case "digest":
    case "failed":
      return
    default:
      return entry satisfies never
  }
}

function readTold(told: Told, entry: EntryOf<"sent">, reading: Reading): void {
  const numbers = reading.numbers.get(entry.to) ?? new Map<number, string>()
  numbers.set(told.n, told.id)
  reading.numbers.set(entry.to, numbers)
  const record = reminderOf(told.id, told.kind, told.bed, reading)
  const said = { to: entry.to, at: entry.at, n: told.n, seq: entry.seq, days: told.days ?? {} }
  record.said.push(told.call === undefined ? said : { ...said, call: told.call })
}

function readAct(act: Act, entry: EntryOf<"reply">, reading: Reading): void {
  switch (act.act) {
    case "done":
    case "skip":
    case "snooze":
      for (const n of act.n) answerReminder(act, n, entry, reading)
      return
    case "observe":
      return file(reading, entry, act.bed, act.on, act.species ? [act.species] : [], (record) =>
        record.facts.push({ fact: "observed", what: act.what, species: act.species, on: act.on, seq: entry.seq }),
      )
    case "measure":
      return readMeasure(act, entry, reading)
    case "sowed": {
      const records = reading.beds.get(act.bed)
      if (!records || !fileSowing(records, act.bed, act.species, act.on, entry.seq))
        orphan(reading, entry, act.bed, act.on)
      return
    }
    case "cut":
      return file(reading, entry, act.bed, act.on, act.species, (record) =>
        addCut(record, act.species, act.then, act.on, entry.seq),
      )
    case "watered":
      return file(reading, entry, act.bed, act.on, [], (record) =>
        record.facts.push({ fact: "watered", on: act.on, seq: entry.seq }),
      )
    case "planted":
      return file(reading, entry, act.bed, act.on, [], (record) => addPlanted(record, act.crop, act.on, entry.seq))
    case "want":
      return fileWant(act, entry, reading)
    case "pause":
      reading.paused.set(entry.by, { until: act.until, seq: entry.seq })
      return
    case "resume":
      reading.paused.delete(entry.by)
      return
    case "stop":
      channelsOf(entry.by, reading)[channelOf(entry)] = "stopped"
      return
    case "start":
      channelsOf(entry.by, reading)[channelOf(entry)] = "open"
      return
    case "drop-bed":
      reading.dropped.add(act.bed)
      return
    case "add-bed":
    case "tell":
    case "undo":
    case "join":
    case "help":
      return
    default:
      return act satisfies never
  }
}

/** What a number in a reply says of its reminder; a number nobody was told is passed over (the reply was asked about). */
function answerReminder(
  act: ActOf<"done"> | ActOf<"skip"> | ActOf<"snooze">,
  n: number,
  entry: EntryOf<"reply">,
  reading: Reading,
): void {
  const id = reading.numbers.get(entry.by)?.get(n)
  const record = id === undefined ? undefined : reading.reminders.get(id)
  if (!record) return
  if (act.act === "snooze") {
    record.snoozed = { until: act.until, by: entry.by, times: (record.snoozed?.times ?? 0) + 1, seq: entry.seq }
    return
  }
  if (record.settled) return
  const by = { by: entry.by, at: entry.at, seq: entry.seq }
  if (act.act === "skip") {
    record.settled = { how: "skipped", on: localDay(entry.at, reading.zone), ...by }
    return
  }
  record.settled = { how: "done", on: act.on, ...by }
  fileDone(record, act.on, entry, reading)
}

/** "Done" says that what the reminder asked for was done: the plain fact of its kind. */
function fileDone(reminder: OpenReminder, on: Day, entry: EntryOf<"reply">, reading: Reading): void {
  const sowing = sowingOfReminder(reminder.id)
  const record = reading.beds.get(reminder.bed)?.find((each) => each.sowing.id === sowing)
  if (!record) return orphan(reading, entry, reminder.id, on)
  switch (reminder.kind) {
    case "sow":
      sow(record, [], on, entry.seq)
      return
    case "resow":
      resow(record, on, entry.seq)
      return
    case "water-in":
      record.facts.push({ fact: "watered", on, seq: entry.seq })
      return
    case "cut":
      return addCut(record, [], null, on, entry.seq)
    case "plant":
      return addPlanted(record, null, on, entry.seq)
    case "check-emergence":
    case "frost":
    case "watch-boot":
    case "watch-bloom":
    case "check-regrowth":
    case "rest-over":
      return
    default:
      return reminder.kind satisfies never
  }
}

function readMeasure(act: ActOf<"measure">, entry: EntryOf<"reply">, reading: Reading): void {
  if (act.what === "rain_mm") {
    reading.rain.push({ value_mm: act.value, on: act.on, seq: entry.seq })
    return
  }
  if (act.bed === null) return
  const species = act.species ?? null
  file(reading, entry, act.bed, act.on, species ? [species] : [], (record) =>
    record.facts.push({ fact: "measured", what: act.what, value: act.value, species, on: act.on, seq: entry.seq }),
  )
}

/** A wish for a day of planting belongs to the sowing that stands in the bed when it is said. */
function fileWant(act: ActOf<"want">, entry: EntryOf<"reply">, reading: Reading): void {
  const said = localDay(entry.at, reading.zone)
  file(reading, entry, act.bed, said, [], (record) =>
    record.facts.push({ fact: "want", crop: act.crop, on: act.on, seq: entry.seq }),
  )
}

/** The same cut told twice (by number and in words) is one cut; the fuller telling adds where the tops went. */
function addCut(record: OpenRecord, species: readonly string[], then: Then | null, on: Day, seq: number): void {
  const same = record.facts.findIndex(
    (fact) => fact.fact === "cut" && fact.on === on && fact.seq === seq && fact.species.length === 0,
  )
  if (same >= 0 && species.length === 0) record.facts[same] = { fact: "cut", species, then, on, seq }
  else record.facts.push({ fact: "cut", species, then, on, seq })
}

/** The same planting told twice is one; the fuller telling names the crop. */
function addPlanted(record: OpenRecord, crop: string | null, on: Day, seq: number): void {
  const same = record.facts.findIndex((fact) => fact.fact === "planted" && fact.seq === seq)
  if (same >= 0) record.facts[same] = { fact: "planted", crop, on, seq }
  else record.facts.push({ fact: "planted", crop, on, seq })
}

function file(
  reading: Reading,
  entry: EntryOf<"reply">,
  bed: string,
  on: Day,
  species: readonly string[],
  add: (record: OpenRecord) => void,
): void {
  const record = sowingOn(reading.beds.get(bed) ?? [], on, species)
  if (record) add(record)
  else orphan(reading, entry, bed, on)
}

function orphan(reading: Reading, entry: EntryOf<"reply">, named: string, on: Day): void {
  const bed = bedOfReminder(named)
  reading.orphans.push({ seq: entry.seq, named, nearest: nearestSowing(reading.beds.get(bed) ?? [], on) })
}

function reminderOf(id: string, kind: ReminderKind, bed: string, reading: Reading): OpenReminder {
  const known = reading.reminders.get(id)
  if (known) return known
  const fresh: OpenReminder = { id, kind, bed, settled: null, snoozed: null, lapsed: null, said: [] }
  reading.reminders.set(id, fresh)
  return fresh
}

function channelsOf(person: string, reading: Reading): { text: ChannelState; mail: ChannelState } {
  const known = reading.channels.get(person)
  if (known) return known
  const fresh = { text: "open" as ChannelState, mail: "open" as ChannelState }
  reading.channels.set(person, fresh)
  return fresh
}

/** A stop by mail stops mail; by any other way it stops texts. */
function channelOf(entry: EntryOf<"reply">): "text" | "mail" {
  return entry.via === "email" ? "mail" : "text"
}
