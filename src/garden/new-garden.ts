import { parseDocument, stringify } from "yaml"
import type { Day } from "../values/day.ts"
import type { Garden, GardenPlace } from "./garden.ts"

/** A first bed as somebody told of it. */
export type NewBed = {
  id: string
  name: string
  /** As a garden file has it: `4 x 8 ft`. */
  size: string
  sowing: { on: Day; isSown: boolean; species: readonly { id: string; share: number | null }[] } | null
}

export type NewPerson = { id: string; name: string; phone: string }

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

function bedInFile({ id, name, size, sowing }: NewBed) {
  if (!sowing) return { id, name, size }
  const { on, isSown, species } = sowing
  const isShared = species.every(({ share }) => share !== null)
  return {
    id,
    name,
    size,
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

/** A garden file in which a person has another phone or mail address; null where it has no such person. */
export function withContact(text: string, person: string, key: "phone" | "email", value: string): string | null {
  const file = parseDocument(text)
  const { people } = file.toJS() as { people?: { id: string }[] }
  const at = people?.findIndex((each) => String(each.id) === person) ?? -1
  if (at < 0) return null
  file.setIn(["people", at, key], value)
  return String(file)
}
