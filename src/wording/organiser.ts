import type { Garden, Person } from "../garden/garden.ts"

/** Tells whoever keeps a garden file that one of its phones or mailboxes is of no use, and what goes on instead. */
export function organiserMessage(
  person: Pick<Person, "name" | "phone" | "email">,
  garden: Pick<Garden, "name">,
  gone: { channel: "text" | "mail"; wrongNumber: boolean },
): { subject: string; text: string } {
  const what = gone.channel === "text" ? "phone" : "mail address"
  const seems = gone.wrongNumber
    ? `The phone of ${person.name} seems to be somebody else's.`
    : `The ${what} of ${person.name} takes no more messages.`
  const other = gone.channel === "text" ? person.email : person.phone
  const goesOn =
    other === null
      ? "I know no other way to reach them."
      : `Their ${gone.channel === "text" ? "mail" : "phone"} is used instead.`
  return {
    subject: other === null ? `Nothing reaches ${person.name} any more` : seems.replace(/\.$/, ""),
    text: `Ryebell for ${garden.name}: ${seems} ${goesOn} Please mend it in the garden file.`,
  }
}
