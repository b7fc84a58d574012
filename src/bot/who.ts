import type { Garden, Person } from "../garden/garden.ts"
import type { GardenShelf, Incoming } from "./needs.ts"

/** A person in a garden. */
export type Someone = { garden: Garden; person: Person }

/** Who is behind a phone, a mailbox or a name, found without going through all gardens. */
type People = {
  version: number
  byPhone: Map<string, Someone[]>
  byMailbox: Map<string, Someone[]>
  byRef: Map<string, Someone[]>
  phones: number
}

const known = new WeakMap<GardenShelf, People>()

/** The people of a shelf as it stands. */
function peopleOf(shelf: GardenShelf): People {
  const before = known.get(shelf)
  if (before?.version === shelf.version()) return before
  const people: People = {
    version: shelf.version(),
    byPhone: new Map(),
    byMailbox: new Map(),
    byRef: new Map(),
    phones: 0,
  }
  for (const garden of shelf.all()) {
    for (const person of garden.people) {
      const someone = { garden, person }
      if (person.phone !== null) {
        people.phones += 1
        add(people.byPhone, person.phone, someone)
      }
      if (person.email !== null) add(people.byMailbox, mailbox(person.email), someone)
      add(people.byRef, personRef(garden.id, person.id), someone)
    }
  }
  known.set(shelf, people)
  return people
}

function add(map: Map<string, Someone[]>, key: string, someone: Someone): void {
  const there = map.get(key)
  if (there) there.push(someone)
  else map.set(key, [someone])
}

/** Everyone whom an incoming message may come from: one person, one in each of several gardens, or nobody known. */
export function whoSent({ via, from }: Pick<Incoming, "via" | "from">, shelf: GardenShelf): Someone[] {
  const people = peopleOf(shelf)
  switch (via) {
    case "sms":
      return people.byPhone.get(from) ?? []
    case "email":
      return people.byMailbox.get(mailbox(from)) ?? []
    case "terminal":
    case "web":
    case "cli":
    case "file":
      return people.byRef.get(from) ?? []
    default:
      return via satisfies never
  }
}

/** The same person in other gardens: one phone or one mailbox is one person. */
export function elsewhere(shelf: GardenShelf, garden: Garden, person: Person): Someone[] {
  const people = peopleOf(shelf)
  const found = [
    ...(person.phone === null ? [] : (people.byPhone.get(person.phone) ?? [])),
    ...(person.email === null ? [] : (people.byMailbox.get(mailbox(person.email)) ?? [])),
  ].filter((someone) => someone.garden.id !== garden.id)
  return [...new Set(found)]
}

/** How many phones there are, each person's counted. */
export function phonesOf(shelf: GardenShelf): number {
  return peopleOf(shelf).phones
}

/** `garden/person`: names a person where neither phone nor mail address does. */
export function personRef(garden: string, person: string): string {
  return `${garden}/${person}`
}

/** Mail addresses are compared without regard to case, as every mail program does. */
function mailbox(address: string): string {
  return address.trim().toLowerCase()
}
