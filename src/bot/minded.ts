import type { KnownWeather } from "../agronomy/weather-series.ts"
import type { Act, ActOf } from "../garden/acts.ts"
import type { Entry } from "../garden/entry.ts"
import { type Garden, mindersOf } from "../garden/garden.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { emergenceOf } from "../reminders/emergence-range.ts"
import type { SowingPlan } from "../season/bed-plan.ts"
import { addDays, type Day, daysBetween, later } from "../values/day.ts"
import { instantAt, type Minutes } from "../values/zone.ts"
import { viewOf } from "./known.ts"

/** When people of an example answer: after work. */
const EVENING: Minutes = 18 * 60
/** A cut shows regrowth and planting, a second cut another regrowth: each only once the one before is known. */
const MOST_ROUNDS = 5
/** What became due so lately is still to do, so that the day has something for whoever looks. */
const LATELY_DAYS = 7

/**
 * The log that a garden would have if its people had done all that came up until lately: watered, seen up, cut within the
 * limits, found without regrowth, planted. For an example, which is to open with the work of the day and not with what
 * nobody did in half a year. Entries are in order and numbered from 1.
 */
export function mindedLog(handbook: Handbook, garden: Garden, weather: KnownWeather, on: Day): Entry[] {
  let entries: Entry[] = []
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const { plan } = viewOf(handbook, garden, entries, weather, on)
    const told = plan.beds
      .flatMap((bed) => bed.sowings)
      .flatMap((sowing) => untold(sowing, entries, on).map((telling) => entryOf(telling, sowing.bed, garden)))
    if (told.length === 0) break
    entries = [...entries, ...told].sort((a, b) => a.at - b.at).map((entry, index) => ({ ...entry, seq: index + 1 }))
  }
  return entries
}

type Telling = { act: ActOf<"watered" | "observe" | "cut" | "planted">; words: string }

/** What has passed by then and was not told yet. */
function untold(sowing: SowingPlan, entries: readonly Entry[], on: Day): Telling[] {
  const { bed, sown, cut, wasCut, regrowthCheck, next, endedOn } = sowing
  if (sown === null || endedOn !== null) return []
  const lately = addDays(on, -LATELY_DAYS)
  const tellings: Telling[] = []
  const tell = (act: Telling["act"], words: string, since: Day) => {
    if (!wasTold(act, entries, since)) tellings.push({ act, words })
  }
  const emergence = emergenceOf(sowing)
  if (emergence && sown < on) tell({ act: "watered", bed, on: sown }, `watered ${bed}`, sown)
  if (emergence && emergence.late < on) {
    const seen = addDays(emergence.early, Math.round(daysBetween(emergence.early, emergence.late) / 2))
    tell(seenAs("up", bed, seen), `${bed} is up`, sown)
  }
  if (cut && cut.by < on) {
    const day = later(cut.from, addDays(cut.by, -LATELY_DAYS))
    tell({ act: "cut", bed, species: [], then: null, on: day }, `cut ${bed}`, cut.from)
  }
  if (wasCut && regrowthCheck && regrowthCheck.opens < lately)
    tell(seenAs("no-regrowth", bed, regrowthCheck.opens), `no regrowth on ${bed}`, wasCut.on)
  const ready = next && (wasCut || sowing.state === "resting") ? later(next.ready.likely, next.wanted) : null
  if (ready && ready < lately) tell({ act: "planted", bed, crop: null, on: ready }, `planted ${bed}`, sown)
  return tellings
}

function wasTold(act: Telling["act"], entries: readonly Entry[], since: Day): boolean {
  return entries.some(
    (entry) =>
      entry.kind === "reply" &&
      entry.acts.some(
        (each) =>
          nameOf(each) === nameOf(act) && "bed" in each && each.bed === act.bed && "on" in each && each.on >= since,
      ),
  )
}

function seenAs(what: "up" | "no-regrowth", bed: string, on: Day): ActOf<"observe"> {
  return { act: "observe", bed, species: null, what, on }
}

function nameOf(act: Act): string {
  return act.act === "observe" ? act.what : act.act
}

function entryOf({ act, words }: Telling, bed: string, garden: Garden): Entry {
  const person = mindersOf(garden, bed)[0]
  return {
    seq: 0,
    at: instantAt(act.on, EVENING, garden.place.zone),
    garden: garden.id,
    by: person?.id ?? "",
    via: person?.by === "mail" ? "email" : "sms",
    kind: "reply",
    text: words,
    acts: [act],
  }
}
