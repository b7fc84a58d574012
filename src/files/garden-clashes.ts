import type { Garden } from "../garden/garden.ts"
import type { Problem } from "../values/problem.ts"

/**
 * What a garden shares with others that are served beside it and may not: its id, under which the log keeps it, and the
 * phones and mail addresses of its people, since a reply says nothing of the garden it is for.
 */
export function clashes(garden: Garden, file: string, others: readonly { file: string; garden: Garden }[]): Problem[] {
  return others.flatMap((other) => {
    const problem = (code: string, field: string, found: string, expected: string): Problem => ({
      code,
      place: { file, line: 1, column: 1 },
      field,
      found,
      expected: `${expected}: ${other.file} has it too`,
    })
    const sameId = other.garden.id === garden.id
    return [
      ...(sameId
        ? [problem("same-garden", "", `a garden called ${garden.id}`, "file names that differ before the dot")]
        : []),
      ...garden.people.flatMap((person) => {
        const field = `people[${person.id}]`
        const phone = person.phone && other.garden.people.find((each) => each.phone === person.phone)
        const mail = person.email?.toLowerCase()
        const email = mail && other.garden.people.find((each) => each.email?.toLowerCase() === mail)
        const people = (name: string) => `one garden for each person (${person.name}, ${name})`
        return [
          ...(phone ? [problem("same-phone", `${field}.phone`, person.phone ?? "", people(phone.name))] : []),
          ...(email ? [problem("same-mail", `${field}.email`, person.email ?? "", people(email.name))] : []),
        ]
      }),
    ]
  })
}
