import { describe, expect, it } from "vitest"
import { replyOf } from "../../src/channels/reply-of.ts"
import { eml } from "./reply-of-samples.ts"

/** What people write: short, long, with figures, colons, dashes, and words that programs use too. */
const WORDS = [
  "done 1",
  "done 1, snooze 2 to friday",
  "not yet",
  "South: up\nNorth: patchy",
  "On Monday I cut the south bed",
  "cut on 9 May 2026 at 7:30",
  "stop",
  "The rye is 45 in tall, about 50% shedding:\nI will cut it on Saturday.",
  "- south done\n- kitchen: no",
  "Am Samstag gemäht",
  "Le trèfle est en fleur",
  "El vecino dice que ya",
  "From the fence to the path it is up",
  "I wrote it on the stake",
  "1) done\n2) not yet",
  "👍",
  "Sent my neighbour to water it",
  "rye -- the tall one -- is in boot",
  "To: be honest I forgot",
  "9 May: first bloom",
  "2026-05-09 first bloom on vetch",
  "Thanks!\n\nInes",
  "Fri 15 is fine",
  "what about the peas? they look yellow...",
  "Date of cutting: 9 May 2026\nheight: 45 in",
]

const WHO = "Ryebell <bot@garden.example.net>"
const INTRODUCTIONS = [
  `On Sat, May 9, 2026 at 7:00 AM ${WHO} wrote:`,
  `On Sat, May 9, 2026 at 7:00\u202fAM Ryebell for the whole of Long Acre\n<bot@garden.example.net> wrote:`,
  "On Sat, May 9, 2026, Ryebell wrote:",
  "On 09/05/2026 07:00, Ryebell wrote:",
  `On 9 May 2026, at 07:00, ${WHO} wrote:`,
  `Am Sa., 9. Mai 2026 um 07:00 Uhr schrieb ${WHO}:`,
  "Am 09.05.26 um 07:00 schrieb Ryebell:",
  `${WHO} schrieb am Sa., 9. Mai 2026, 07:00:`,
  `Le sam. 9 mai 2026 à 07:00, ${WHO} a écrit :`,
  "Le 09/05/2026 à 07:00, Ryebell a écrit :",
  "El sáb, 9 may 2026 a las 7:00, Ryebell (<bot@garden.example.net>) escribió:",
  "El 9/5/26 a las 7:00, Ryebell escribió:",
  `Il giorno sab 9 mag 2026 alle ore 07:00 ${WHO} ha scritto:`,
  "Il 09/05/2026 07:00, Ryebell ha scritto:",
  `Op za 9 mei 2026 om 07:00 schreef ${WHO}:`,
  "Op 09-05-2026 om 07:00 schreef Ryebell:",
  `Op 9 mei 2026 om 07:00 heeft ${WHO} het volgende geschreven:`,
  `Em sáb., 9 de mai. de 2026 às 07:00, ${WHO} escreveu:`,
  "Em 09/05/2026 07:00, Ryebell escreveu:",
  `Den lör 9 maj 2026 kl 07:00 skrev ${WHO}:`,
  "Den 2026-05-09 kl. 07:00, skrev Ryebell:",
  `Den lør. 9. maj 2026 kl. 07.00 skrev ${WHO}:`,
  `sob., 9 maj 2026 o 07:00 ${WHO} napisał(a):`,
  "W dniu 9.05.2026 o 07:00, Ryebell pisze:",
  `Dnia 9 maja 2026 07:00 ${WHO} napisał(a):`,
  `2026-05-09 7:00 GMT-04:00 ${WHO}:`,
  `la 9. toukok. 2026 klo 7.00 ${WHO} kirjoitti:`,
]

const BLOCKS = [
  ["From", "Sent", "To", "Subject"],
  ["Von", "Gesendet", "An", "Betreff"],
  ["De ", "Envoyé ", "À ", "Objet "],
  ["De", "Enviado", "Para", "Asunto"],
  ["Da", "Inviato", "A", "Oggetto"],
  ["Van", "Verzonden", "Aan", "Onderwerp"],
  ["De", "Enviada em", "Para", "Assunto"],
  ["Från", "Skickat", "Till", "Ämne"],
  ["Fra", "Sendt", "Til", "Emne"],
  ["Od", "Wysłano", "Do", "Temat"],
  ["*From", "*Date", "*To", "*Subject"],
].map(
  ([from, sent, to, subject]) =>
    `${from}: ${WHO}\n${sent}: Saturday, May 9, 2026 7:00 AM\n${to}: Ines <ines@example.org>\n${subject}: 2 things for Long Acre this week`,
)

const RULES = [
  "",
  "________________________________\n",
  "-----Original Message-----\n",
  "-------- Ursprüngliche Nachricht --------\n",
]

const SIGNATURES = [
  "",
  "\n\n-- \nInes Okafor\nDone Right Bookkeeping\n+1 717 555 0142",
  "\n\nSent from my iPhone",
  "\n\nVon meinem iPhone gesendet",
  "\n\nEnvoyé de mon iPhone",
  "\n\nEnviado desde mi iPhone",
  "\n\nInviato da iPhone",
  "\n\nVerstuurd vanaf mijn iPhone",
  "\n\nSkickat från min iPhone",
  "\n\nSendt fra min iPhone",
  "\n\nWysłane z iPhone'a",
  "\n\nEnviado do meu iPhone",
  "\n\nGet Outlook for Android<https://aka.ms/AAb9ysg>",
]

const OURS =
  "Ryebell for Long Acre\n\n1) Cut South bed by Fri 15 May, before seed drops. Leave the roots in. Reply DONE 1, or SNOOZE 1 SAT.\n2) Water Kitchen bed, about 5 gal. Reply UP when green."
const marked = (text: string) => text.replace(/^/gm, "> ")

const fold = (text: string) => text.replace(/\s+/g, " ").trim()
/** Every combination that is read wrongly, so that a failure shows them together. */
const wrong = (cases: Iterable<[string, string]>) =>
  [...cases].filter(([body, words]) => fold(replyOf(eml({ body })).reply) !== fold(words)).map(([body]) => body)

describe("new words beside what programs add, every combination", () => {
  it("are read above a marked quote, whatever introduces it and whatever signs", () => {
    function* cases(): Generator<[string, string]> {
      for (const words of WORDS)
        for (const introduction of INTRODUCTIONS)
          for (const signature of SIGNATURES)
            yield [`${words}${signature}\n\n${introduction}\n\n${marked(OURS)}\n`, words]
    }
    expect(wrong(cases())).toEqual([])
  })

  it("are read above a quote without marks", () => {
    function* cases(): Generator<[string, string]> {
      for (const words of WORDS)
        for (const introduction of INTRODUCTIONS) yield [`${words}\n\n${introduction}\n\n${OURS}\n`, words]
    }
    expect(wrong(cases())).toEqual([])
  })

  it("are read above a block of labels", () => {
    function* cases(): Generator<[string, string]> {
      for (const words of WORDS)
        for (const block of BLOCKS)
          for (const rule of RULES)
            for (const signature of SIGNATURES.slice(0, 4))
              yield [`${words}${signature}\n\n${rule}${block}\n\n${OURS}\n`, words]
    }
    expect(wrong(cases())).toEqual([])
  })

  it("are read below and between marked quotes", () => {
    function* cases(): Generator<[string, string]> {
      for (const words of WORDS)
        for (const introduction of INTRODUCTIONS) {
          yield [`${introduction}\n${marked(OURS)}\n\n${words}\n`, words]
          yield [
            `${introduction}\n${marked("1) Cut South bed.")}\n${words}\n${marked("2) Water Kitchen bed.")}\n\nyes\n\n-- \nInes\n`,
            `${words}\nyes`,
          ]
        }
    }
    expect(wrong(cases())).toEqual([])
  })

  it("are read in HTML as in plain text", () => {
    const html = (text: string) =>
      text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/\n/g, "<br>")
    function* cases(): Generator<[string, string]> {
      for (const words of WORDS)
        for (const introduction of INTRODUCTIONS)
          yield [
            `<div>${html(words)}</div><div><div>${html(introduction)}<br></div><blockquote>${html(OURS)}</blockquote></div>`,
            words,
          ]
      for (const words of WORDS)
        for (const block of BLOCKS)
          yield [`<div><p>${html(words)}</p></div><hr><div>${html(block)}</div><div>${html(OURS)}</div>`, words]
    }
    const misread = [...cases()].filter(
      ([body, words]) => fold(replyOf(eml({ type: "text/html; charset=utf-8", body })).reply) !== fold(words),
    )
    expect(misread.map(([body]) => body)).toEqual([])
  })
})
