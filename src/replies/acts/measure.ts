import type { Act, Measure } from "../../garden/acts.ts"
import type { Tag } from "../facts.ts"
import type { Frame } from "../frames.ts"
import { isOfOthers } from "../mood.ts"
import { endsWith, hasWord, startsWith } from "../says.ts"
import { A_NOTE, ask, type Proposal, type Scene } from "../scene.ts"
import { targetsOf } from "../targets.ts"
import { saidDays, when } from "../when.ts"
import { bedFor, speciesIn } from "./observe.ts"

type Reading = { what: Measure; value: number }

const INCH_CM = 2.54

/** Figures that were read off: height, soil warmth, rain, a quadrat's weight, cover. */
export function measure(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (frame.command || (frame.work && frame.work.work !== "done")) return null
  const reading = readingOf(frames, index, scene)
  if (!reading) return null
  if (
    frame.held ||
    frame.asked ||
    frame.before("future") ||
    frame.before("must") ||
    frame.before("not") ||
    frame.before("told") ||
    frame.has("habit") ||
    isOfOthers(frame)
  )
    return A_NOTE
  const day = when(saidDays(frames, index, "before"), scene, "past", scene.context.now.day)
  if ("unclear" in day) return ask("day")
  return placed(frame, scene, reading, day.day)
}

/** "oats 6 in tall, peas 4": a bare figure in the unit of the one before; a remark where the unit cannot be told. */
export function measureAlike(frames: readonly Frame[], index: number, scene: Scene): Proposal {
  const frame = frames[index] as Frame
  const before = frames[index - 1]?.figures[0]
  const figure = plainFigure(frame)
  const numbers = before?.words.filter((word) => word.kind === "number") ?? []
  const value = numbers[0]?.value
  if (before?.amount?.of !== "length" || numbers.length !== 1 || !value || figure === null) return A_NOTE
  const named = frame.named.filter(({ item }) => item.bed ?? item.species)
  const cm = (before.amount.cm / value) * figure
  return placed({ ...frame, named }, scene, { what: "height_cm", value: cm }, scene.context.now.day)
}

function placed(frame: Frame, scene: Scene, reading: Reading, on: NonNullable<Scene["lastWork"]>["on"]): Proposal {
  const targets = targetsOf(frame, scene, "state")
  if (targets.unknownBed)
    return ask(
      "bed",
      scene.context.beds.map((bed) => bed.id),
    )
  if (targets.unclear) return ask("bed", targets.unclear)
  const value = Math.round(reading.value * 100) / 100
  if (reading.what === "rain_mm")
    return act({ act: "measure", bed: targets.beds[0] ?? null, species: null, what: "rain_mm", value, on })
  const seen = scene.lastSeen?.sentence === frame.sentence ? scene.lastSeen.pairs : []
  const near = seen.map((each) => ({ bed: each.bed, species: each.species === null ? null : [each.species] }))
  const pairs = targets.pairs.length > 0 ? targets.pairs : near.length > 0 ? near : [{ bed: null, species: null }]
  if (scene.story && targets.pairs.length === 0) return A_NOTE
  const found: Act[] = []
  for (const pair of pairs) {
    const bed = pair.bed ?? bedFor(pair.species, frame, scene, null)
    if (typeof bed !== "string") return bed
    const here = pair.species ? speciesIn(bed, pair.species, scene) : { bed, species: null }
    if ("ask" in here) return here
    found.push({ act: "measure", bed, species: here.species, what: reading.what, value, on })
    scene.lastBeds = { beds: [bed], sentence: frame.sentence }
  }
  return { acts: found, ask: null, note: false }
}

function act(found: Act): Proposal {
  return { acts: [found], ask: null, note: false }
}

/** What was read off, if the clause says of what. */
function readingOf(frames: readonly Frame[], index: number, scene: Scene): Reading | null {
  const frame = frames[index] as Frame
  const says = (list: Tag): boolean => isTold(frame, list)
  const soil = soilReading(frame, scene, says("soil") || says("temperature"), says("soil"))
  if (soil) return soil
  const figure = frame.figures[0]?.amount
  if (!figure && says("cover") && frame.stray.length === 0) {
    const covered = plainFigure(frame)
    return covered !== null && covered > 0 && covered <= 100 && frame.named.length > 0
      ? { what: "cover_percent", value: covered }
      : null
  }
  if (!figure && frame.items.some((item) => hasWord(item, "gauge"))) {
    const fallen = plainFigure(frame)
    return fallen === null
      ? null
      : { what: "rain_mm", value: scene.context.units === "us" ? fallen * INCH_CM * 10 : fallen }
  }
  if (figure?.of === "share") return shareReading(frame, figure.percent, says("cover"))
  const near = frames.filter((each) => each.sentence === frame.sentence)
  if (figure?.of === "weight")
    return weightReading(
      frames,
      index,
      figure.g,
      near.some((each) => isTold(each, "weight")),
    )
  if (figure?.of === "length" && says("rain") && !frame.items.some((item) => startsWith(item, "snow")))
    return { what: "rain_mm", value: figure.cm * 10 }
  if (figure?.of === "length" && isGauge(frames, frame)) return { what: "rain_mm", value: figure.cm * 10 }
  if (figure?.of === "length") return heightReading(frame, figure.cm, scene)
  return plainHeight(frame, scene)
}

/** "18 mm overnight": millimetres of nothing that grows are rain. */
function isGauge(frames: readonly Frame[], frame: Frame): boolean {
  if (frame.named.length > 0) return false
  const says = (tag: Tag): boolean => isTold(frame, tag)
  if (frame.stray.length === 0 && says("overnight") && !says("grew")) return true
  if (!endsWith(frame.figures[0], "rain-unit")) return false
  return frames.every((each) => each.named.length === 0) || frames.some((each) => isTold(each, "rain-word"))
}

function isTold(frame: Frame, tag: Tag): boolean {
  return frame.items.some((item) => hasWord(item, tag))
}

/** Degrees are the soil's where soil is spoken of; a bare figure there is one too. */
function soilReading(frame: Frame, scene: Scene, spoken: boolean, soil: boolean): Reading | null {
  if (!spoken) return null
  const degrees = frame.figures.find((item) => item.amount?.of === "degrees")?.amount
  if (degrees?.of === "degrees") return soil || frame.named.length > 0 ? { what: "soil_c", value: degrees.c } : null
  if (!soil) return null
  const bare = frame.stray.length > 0 ? null : plainFigure(frame)
  if (bare === null || bare < -20 || bare > 130) return null
  return { what: "soil_c", value: scene.context.units === "us" ? ((bare - 32) * 5) / 9 : bare }
}

/** The first figure without a unit, where there is one. */
function plainFigure(frame: Frame): number | null {
  for (const item of frame.items) {
    if (item.amount || item.bed || item.day || item.time || item.marked) continue
    const word = item.words.find((each) => each.kind === "number")
    if (word?.value !== undefined && !word.ordinal && !word.dotted) return item.words.length === 1 ? word.value : null
  }
  return null
}

function shareReading(frame: Frame, percent: number, cover: boolean): Reading | null {
  if (percent < 0 || percent > 100) return null
  const alone = frame.stray.length === 0 && frame.named.length > 0 && !frame.stage
  return cover || alone ? { what: "cover_percent", value: percent } : null
}

/** A quadrat's weight, by the square metre where its size is told in the same text. */
function weightReading(frames: readonly Frame[], index: number, grams: number, weighed: boolean): Reading | null {
  const area = areaIn(frames)
  if (area === null && !weighed && !frames[index]?.items.some((item) => item.senses.has("measure"))) return null
  if (area === null) return weighed ? { what: "fresh_g", value: grams } : null
  return { what: "fresh_g_per_m2", value: grams / area }
}

function areaIn(frames: readonly Frame[]): number | null {
  const areas = frames.flatMap((frame) =>
    frame.items.flatMap((item) => (item.amount?.of === "area" ? [item.amount.m2] : [])),
  )
  return areas.length === 1 && (areas[0] as number) > 0 ? (areas[0] as number) : null
}

const LEAST_HEIGHT_CM = 0.5
const MOST_HEIGHT_CM = 500

function heightReading(frame: Frame, cm: number, _scene: Scene): Reading | null {
  if (frame.items.some((item) => item.amount === undefined && !item.bed && hasWord(item, "not-height"))) return null
  if (cm < LEAST_HEIGHT_CM || cm > MOST_HEIGHT_CM) return null
  const tall = isTold(frame, "height")
  if (frame.stray.length > 0 && !(tall && frame.named.length > 0) && frame.named.length === 0) return null
  if (isForeignFirst(frame)) return null
  return { what: "height_cm", value: cm }
}

/** "the fence is 4 ft": said of something else. */
function isForeignFirst(frame: Frame): boolean {
  for (const item of frame.items) {
    if (item.bed || item.species || item.amount) return false
    if (item.senses.has("content") || item.senses.has("trap") || item.crops) return true
  }
  return false
}

/** "rye is 40 tall": a bare figure beside a plant and "tall". */
function plainHeight(frame: Frame, scene: Scene): Reading | null {
  if (frame.stage || frame.work || frame.figures.length > 0) return null
  const tall = isTold(frame, "height")
  const figure = plainFigure(frame)
  const alone =
    frame.named.length > 0 &&
    frame.named.some(({ item }) => item.species) &&
    frame.items.length <= frame.named.length + 3
  const number = figure !== null && scene.context.open.some((each) => each.n === figure)
  if (
    (!tall && (!alone || number)) ||
    figure === null ||
    figure < 2 ||
    figure > 400 ||
    frame.stray.length > 0 ||
    frame.days.length > 0
  )
    return null
  return { what: "height_cm", value: scene.context.units === "us" ? figure * INCH_CM : figure }
}
