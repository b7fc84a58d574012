import { checkText } from "../../src/wording/check-text.ts"
import { measure } from "../../src/wording/segments.ts"
import type { Wording } from "./wording.ts"
import { answerWordings } from "./wordings-answers.ts"
import { reminderWordings } from "./wordings-reminders.ts"
import { talkWordings } from "./wordings-talk.ts"

/** Every wording that the bot can send, each text once, in the order of a season and of a talk. */
export function everyWording(): Wording[] {
  const all = [...reminderWordings(), ...answerWordings(), ...talkWordings()]
  return [...new Map(all.map((each) => [`${each.by} ${each.text}`, each] as const)).values()]
}

/** What is against the rules of wording; a mail has no segments and may be as long as it likes. */
export function wrongIn({ text, by, rules }: Wording): string[] {
  const wrong = checkText(text, rules)
  return by === "text" ? wrong : wrong.filter((each) => !/ units, at most /.test(each))
}

/** The table: a row for each, and a count below. */
export function tableOf(all: readonly Wording[]): string {
  const rows = all.map((each) => {
    const { units, segments } = measure(each.text)
    const size = each.by === "text" ? `${units} | ${segments}` : `${[...each.text].length} | mail`
    return `${each.name} | ${size} | ${wrongIn(each).join("; ") || "ok"} | ${each.text.replaceAll("\n", " / ")}`
  })
  const texts = all.filter(({ by }) => by === "text").map(({ text }) => measure(text))
  const count = (segments: number) => texts.filter((each) => each.segments === segments).length
  const longer = texts.length - count(1) - count(2)
  return [
    "wording | length | segments | rules | words",
    ...rows,
    `${all.length} wordings: ${count(1)} texts of one segment, ${count(2)} of two, ${longer} of more; ${all.length - texts.length} lines of mail; ${all.filter((each) => wrongIn(each).length > 0).length} against the rules`,
  ].join("\n")
}
