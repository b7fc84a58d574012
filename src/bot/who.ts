import type { Garden, Person } from "../garden/garden.ts"
import type { Incoming } from "./needs.ts"

/** A person in a garden. */
export type Someone = { garden: Garden; person: Person }

/** Everyone whom an incoming message may come from: one person, one in each of several gardens, or nobody known. */
export function whoSent(incoming: Pick<Incoming, "via" | "from">, gardens: readonly Garden[]): Someone[] {
  return gardens.flatMap((garden) =>
    garden.people.filter((person) => isFrom(incoming, garden, person)).map((person) => ({ garden, person })),
  )
}

function isFrom(incoming: Pick<Incoming, "via" | "from">, garden: Garden, person: Person): boolean {
  switch (incoming.via) {
    case "sms":
      return person.phone === incoming.from
    case "email":
      return person.email !== null && sameMailbox(person.email, incoming.from)
    case "terminal":
    case "web":
    case "cli":
    case "file":
      return incoming.from === personRef(garden.id, person.id)
    default:
      return incoming.via satisfies never
  }
}

/** `garden/person`: names a person where neither phone nor mail address does. */
export function personRef(garden: string, person: string): string {
  return `${garden}/${person}`
}

/** Mail addresses are compared without regard to case, as every mail program does. */
function sameMailbox(a: string, b: string): boolean {
  return a.trim().toLowerCase() === b.trim().toLowerCase()
}
