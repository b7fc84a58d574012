import { frostTable, usualFrosts } from "../agronomy/frost-dates.ts"
import { printable } from "../channels/terminal.ts"
import type { Bed, Garden, Person, Sowing } from "../garden/garden.ts"
import { readHistory } from "../garden/history.ts"
import { climateOf } from "../garden/place-climate.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { showAmount } from "../values/amount.ts"
import { type Day, daysBetween } from "../values/day.ts"
import { CouldNot } from "../values/problem.ts"
import { localDay, type Minutes } from "../values/zone.ts"
import type { World } from "./command.ts"

/** A garden as Ryebell understands it, as lines: what a slip that no reader can see would show up in. */
export async function gardenLines(garden: Garden, file: string, world: World): Promise<string[]> {
  const handbook = world.handbook()
  const today = localDay(world.clock.now(), garden.place.zone)
  const people =
    garden.people.length === 0
      ? ["nobody: no reminder will be sent"]
      : garden.people.flatMap((person) => personLines(person, garden))
  return [
    `${garden.name} (${garden.id}), ${file}`,
    ...placeLines(garden, handbook).map(indent),
    indent("People"),
    ...people.map((line) => indent(indent(line))),
    indent("Beds"),
    ...garden.beds.flatMap((bed) => bedLines(bed, garden, handbook, today)).map((line) => indent(indent(line))),
    ...(await strayLines(garden, world)).map(indent),
  ].map(printable)
}

function indent(line: string): string {
  return `  ${line}`
}

function placeLines(garden: Garden, handbook: Handbook): string[] {
  const { place } = garden
  const side = (value: number, positive: string, negative: string) =>
    `${Math.abs(value)} ${value < 0 ? negative : positive}`
  const where = `${side(place.latitude, "N", "S")}, ${side(place.longitude, "E", "W")}`
  const climate = climateOf(place, handbook)
  const frosts = usualFrosts(place.frost, climate, frostTable(handbook))
  const height = place.elev_m === null ? "" : `, ${showAmount(place.elev_m * 100, "cm", place.units)} above the sea`
  const station = typeof place.normals === "string" ? `, ${climate.where} (${climate.id}), as the file says` : ""
  return [
    `Place    ${where}${height}; ${place.zone}; ${place.units} units, dates ${place.dates}`,
    `Climate  ${climate.made ?? `${climate.name}${station}`}`,
    `Frosts   last ${frosts.last ?? "none in most years"}, first ${frosts.first ?? "none in most years"} (MM-DD), ${place.frost ? "as the file says" : "from the normals"}`,
  ]
}

function personLines(person: Person, garden: Garden): string[] {
  const ways = [
    ...(person.by !== "mail" && person.phone ? [`texts to ${person.phone}`] : []),
    ...(person.by !== "text" && person.email ? [`mails to ${person.email}`] : []),
  ]
  const hours = `${clock(person.texts.from)} to ${clock(person.texts.to)}, at most ${person.texts.most} a day`
  const zone = person.zone === garden.place.zone ? "" : ` (${person.zone})`
  const beds = person.minds === null ? "all beds" : person.minds.join(", ") || "no bed"
  const digest = person.digest ? `${person.digest.day} ${clock(person.digest.at)} to ${person.email}` : "none"
  return [
    `${person.name} (${person.id}): ${ways.join(" and ")}, ${hours}${zone}`,
    `  minds ${beds}; weekly mail: ${digest}`,
  ]
}

function clock(minutes: Minutes): string {
  return `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`
}

function bedLines(bed: Bed, garden: Garden, handbook: Handbook, today: Day): string[] {
  const also = bed.also.length > 0 ? `, also ${bed.also.join(", ")}` : ""
  const title = `${bed.name} (${bed.id}${also}): ${bed.kind}, ${showAmount(bed.area_m2, "m2", garden.place.units)}`
  const sowings = bed.sowings.map((sowing) => `  ${sowingLine(sowing, handbook, today)}`)
  return [title, ...(sowings.length > 0 ? sowings : ["  nothing sown or planned"])]
}

/** A planned day so long past is likely a sowing that was forgotten or never told. */
const FORGOTTEN_DAYS = 60

function sowingLine(sowing: Sowing, handbook: Handbook, today: Day): string {
  const mix = sowing.species
    .map(
      ({ id, share }) =>
        `${handbook.species.get(id)?.names[0] ?? id}${share < 1 ? ` ${Math.round(share * 100)}%` : ""}`,
    )
    .join(" + ")
  const next = sowing.next
    ? `; next ${sowing.next.crop}${sowing.next.wanted ? `, wanted ${sowing.next.wanted}` : ""}`
    : ""
  const notes = [
    ...(sowing.sown && sowing.sown > today ? ["NOTE: this day is still to come; planned: is the key for it"] : []),
    ...(sowing.planned && daysBetween(sowing.planned, today) > FORGOTTEN_DAYS
      ? ["NOTE: planned, and long past; sown: is the key once it is in the ground"]
      : []),
  ]
  const day = sowing.sown ? `sown ${sowing.sown}` : `planned ${sowing.planned}`
  return [`${day}: ${mix}; then ${sowing.then}${next}`, ...notes].join("  ")
}

/** Log entries whose bed or sowing is no longer in the file: they are kept, but belong to nothing. */
async function strayLines(garden: Garden, world: World): Promise<string[]> {
  try {
    const { orphans } = readHistory(await world.storedEntries(garden.id), garden)
    return orphans.map(({ seq, named, nearest }) => {
      const hint = nearest ? `; the nearest sowing is ${nearest}` : ""
      return `NOTE: entry ${seq} of the log is about ${named}, which is not in the file${hint}`
    })
  } catch (error) {
    if (error instanceof CouldNot) return [`NOTE: the log could not be read: ${error.message}`]
    throw error
  }
}
