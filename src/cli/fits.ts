import type { Units } from "../garden/garden.ts"
import { type Fit, type Fits, fitsFor } from "../season/fits.ts"
import { convert } from "../values/amount.ts"
import { nearestWord } from "../values/nearest.ts"
import { type Problem, WrongInput } from "../values/problem.ts"
import type { Command, KnownGarden } from "./command.ts"
import { readOptions } from "./options.ts"

export const fits: Command = {
  name: "fits",
  summary: "which covers fit the gap between two food crops",
  usage: `usage: ryebell fits --bed ID [--from DAY --to DAY] [--garden FILE] [--log FILE] [--weather FILE] [--on DAY] [--json]

Shows which covers fit a bed between two food crops, when to sow them and how much seed and water they take, and why the
others do not fit. Without days: from the day the bed is free to the day the next crop is wanted.
  --bed ID        the bed
  --from DAY      the day the bed is free (YYYY-MM-DD)
  --to DAY        the day the next crop goes in
  --garden FILE   a garden file other than the one that is set
  --log FILE      log lines (JSON Lines, as \`log --json\` prints them) in place of the store
  --weather FILE  daily weather, CSV: date,tmin_c,tmax_c,rain_mm
  --on DAY        as known at the end of that day; without it, today
  --json          one JSON value`,
  async run(args, world) {
    const { options } = readOptions(args, {
      bed: "text",
      from: "day",
      to: "day",
      garden: "text",
      log: "text",
      weather: "text",
      on: "day",
      json: "flag",
    })
    const known = await world.known(options)
    const bed = known.garden.beds.find((one) => one.id === options.bed)
    if (!bed) throw new WrongInput([unknownBed(options.bed, known)])
    if (options.from && options.to && options.to <= options.from)
      throw new WrongInput([backwards(options.from, options.to)])
    const found = fitsFor(known, bed, known.on, { from: options.from, to: options.to })
    if (options.json) world.out(JSON.stringify(found))
    else for (const line of fitsLines(found, known)) world.out(line)
    return 0
  },
}

function unknownBed(id: string | undefined, known: KnownGarden): Problem {
  const ids = known.garden.beds.map((bed) => bed.id)
  const nearest = id === undefined ? undefined : nearestWord(id, ids)
  return {
    code: id === undefined ? "missing" : "unknown-bed",
    place: null,
    field: "--bed",
    found: id === undefined ? "nothing" : JSON.stringify(id),
    expected: `a bed of this garden: ${ids.join(", ")}`,
    ...(nearest ? { nearest } : {}),
  }
}

function backwards(from: string, to: string): Problem {
  return { code: "order", place: null, field: "--to", found: to, expected: `a day after ${from}` }
}

function fitsLines({ gap, covers }: Fits, known: KnownGarden): string[] {
  const units = known.garden.place.units
  const name = known.garden.beds.find((bed) => bed.id === gap.bed)?.name ?? gap.bed
  const next = gap.next ? `, then ${gap.next}` : ""
  const good = covers.filter((cover) => cover.fits)
  const others = covers.filter((cover) => !cover.fits)
  return [
    `${name}: ${gap.from} to ${gap.to}, ${gap.days} days${next}`,
    "",
    good.length === 0 ? "No cover fits." : "These fit:",
    ...good.flatMap((cover) => goodLines(cover, units)),
    "",
    "These do not:",
    ...others.map((cover) => `  ${cover.species}: ${cover.why.join(" ")}`),
  ]
}

function goodLines(cover: Fit, units: Units): string[] {
  const seed = cover.seed
    ? `${showSeed(cover.seed.g)} of live seed (${showSeed(cover.seed.bag_g)} from a usual bag)`
    : ""
  const water = units === "us" ? `${round(convert(cover.water_l, "l", "gal"))} gal` : `${round(cover.water_l)} l`
  return [
    `  ${cover.species}: sow ${cover.sow?.from} to ${cover.sow?.by}`,
    `      ${cover.why.join(" ")}`,
    `      seed: ${seed}; water it in with ${water}`,
    ...(cover.seed?.inoculant ? [`      inoculant: ${cover.seed.inoculant}`] : []),
    ...cover.cautions.map((caution) => `      caution: ${caution.text}`),
  ]
}

/** Grams and ounces side by side, as seed is weighed. */
function showSeed(g: number): string {
  return `${round(g)} g (${round(convert(g, "g", "oz"))} oz)`
}

function round(value: number): number {
  return Math.round(value * 10) / 10
}
