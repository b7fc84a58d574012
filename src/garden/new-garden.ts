import { type Document, isSeq, parseDocument, stringify } from "yaml"
import type { Day } from "../values/day.ts"
import type { Garden, GardenPlace } from "./garden.ts"

/** A bed as somebody told of it. */
export type NewBed = {
  id: string
  name: string
  /** As a garden file has it: `4 x 8 ft`. */
  size: string
  sowing: { on: Day; isSown: boolean; species: readonly { id: string; share: number | null }[] } | null
}

/** Somebody who came in by their phone or by their mailbox: that is how nudges come. */
export type NewPerson = { id: string; name: string } & ({ phone: string } | { email: string; by: "mail" })

/** The text of the garden file of somebody who joined: at the place of the garden that let them in. */
export function newGardenText(host: Garden, name: string, person: NewPerson, bed: NewBed): string {
  return stringify({
    garden: name,
    place: placeInFile(host.place),
    people: [person],
    beds: [bedInFile(bed)],
  })
}

function placeInFile({ latitude, longitude, elev_m, zone, units, dates, normals, frost }: GardenPlace) {
  return {
    latitude,
    longitude,
    ...(elev_m === null ? {} : { elev_m }),
    zone,
    units,
    dates,
    ...(normals === null
      ? {}
      : {
          normals:
            typeof normals === "string"
              ? normals
              : normals.tmin_c.map((tmin_c, i) => ({ tmin_c, tmax_c: normals.tmax_c[i], rain_mm: normals.rain_mm[i] })),
        }),
    ...(frost === null ? {} : { frost }),
  }
}

/** A bed whose name says that it is under glass or film is one: it is warmer there. */
const UNDER_COVER = /\b(?:green ?house|glass ?house|poly ?tunnel|hoop ?house|high tunnel)\b/i

function bedInFile({ id, name, size, sowing }: NewBed) {
  const bed = { id, name, ...(UNDER_COVER.test(name) ? { kind: "greenhouse" } : {}), size }
  if (!sowing) return bed
  const { on, isSown, species } = sowing
  const isShared = species.every(({ share }) => share !== null)
  return {
    ...bed,
    sowings: [
      {
        [isSown ? "sown" : "planned"]: on,
        species: isShared
          ? Object.fromEntries(species.map((each) => [each.id, each.share]))
          : species.map((each) => each.id),
      },
    ],
  }
}

/** A garden file with one more person in it; comments and everything else stay as they are. */
export function withPerson(text: string, person: NewPerson): string {
  const file = parseDocument(text)
  file.addIn(["people"], file.createNode(person))
  return String(file)
}

/**
 * A garden file in which a person has another phone or mail address; null where it has no such person. Whoever links a phone
 * wants nudges there.
 */
export function withContact(text: string, person: string, key: "phone" | "email", value: string): string | null {
  const file = parseDocument(text)
  const at = indexOf(file, "people", person)
  if (at < 0) return null
  file.setIn(["people", at, key], value)
  if (key === "phone" && file.getIn(["people", at, "by"]) === "mail") file.deleteIn(["people", at, "by"])
  return String(file)
}

/** A garden file with one more bed, which `minder` minds where they name theirs; as it was where it has that bed. */
export function withBed(text: string, bed: NewBed, minder: string): string {
  const file = parseDocument(text)
  if (indexOf(file, "beds", bed.id) >= 0) return text
  file.addIn(["beds"], file.createNode(bedInFile(bed)))
  addMinded(file, minder, bed.id)
  return String(file)
}

/** A bed as it was taken out of a garden file: its own text, how many beds stood before it, and who named it as theirs. */
export type TakenBed = { was: string; place: number; minders: string[] }

/** A garden file without a bed, and what was taken out; null where it has no such bed. */
export function withoutBed(text: string, bed: string): { text: string; taken: TakenBed } | null {
  const file = parseDocument(text)
  const at = indexOf(file, "beds", bed)
  if (at < 0) return null
  const { beds, people = [] } = file.toJS() as { beds: unknown[]; people?: { id: string; minds?: string[] }[] }
  const minders: string[] = []
  for (const [index, person] of people.entries()) {
    const place = person.minds?.map(String).indexOf(bed) ?? -1
    if (place < 0) continue
    minders.push(String(person.id))
    file.deleteIn(["people", index, "minds", place])
  }
  file.deleteIn(["beds", at])
  return { text: String(file), taken: { was: stringify(beds[at]), place: at, minders } }
}

/** A garden file with a bed that had been taken out; as it was where it has that bed. */
export function withBedBack(text: string, bed: string, { was, place, minders }: TakenBed): string {
  const file = parseDocument(text)
  if (indexOf(file, "beds", bed) >= 0) return text
  const beds = file.getIn(["beds"])
  if (isSeq(beds)) beds.items.splice(place, 0, file.createNode(parseDocument(was).toJS()))
  for (const person of minders) addMinded(file, person, bed)
  return String(file)
}

function addMinded(file: Document, person: string, bed: string): void {
  const at = indexOf(file, "people", person)
  if (at >= 0 && file.hasIn(["people", at, "minds"])) file.addIn(["people", at, "minds"], bed)
}

/** Where in a list of a garden file the one with this id stands; -1 where there is none. */
function indexOf(file: Document, list: "people" | "beds", id: string): number {
  const all = (file.toJS() as Record<string, { id: unknown }[] | undefined>)[list]
  return all?.findIndex((each) => String(each.id) === id) ?? -1
}
