import { readBed, readFirstName, readSowing, type SaidSowing } from "../../src/garden/join-answers.ts"
import { showWeekday } from "../../src/reminders/dates.ts"
import {
  inviteText,
  PROOF_MAIL,
  stillYouText,
  stopText,
  strangerMessage,
  WRONG_NUMBER_TEXT,
  whichGardenText,
  whichPhotoText,
} from "../../src/wording/answer-service.ts"
import {
  askNewBedText,
  bedAddedText,
  bedDroppedText,
  bedKnownText,
  bedsInFileText,
  lastBedText,
  tooManyBedsText,
  whichBedText,
} from "../../src/wording/beds.ts"
import {
  ASK_NAME,
  askAgainText,
  askBedAgain,
  askBedText,
  askNameText,
  askSizeText,
  askSowingText,
  codeMail,
  codeUnknownText,
  confirmText,
  inFileText,
  inviteCodeText,
  inviteMailText,
  joinedText,
  mailCodeText,
  mailLinkedText,
  memberText,
  type Naming,
  noMailText,
  notMailText,
  phoneCodeText,
  phoneLinkedText,
  proveText,
} from "../../src/wording/join.ts"
import { newLinksMail, newLinksText } from "../../src/wording/new-links.ts"
import { organiserMessage } from "../../src/wording/organiser.ts"
import { organiserMail } from "../../src/wording/organiser-page.ts"
import { aPerson, day, handbook } from "../given.ts"
import { asMail, asText, LONG, type Wording } from "./wording.ts"

const TODAY = day("2026-05-06")
const garden = { name: LONG.garden }
const person = aPerson({ name: LONG.person, email: LONG.email })
const links = { season: LONG.link, calendar: LONG.link.replace("season", "calendar"), stop: LONG.link }
const carrier = { carrierWords: true }

/** Consent, joining, codes, strangers and links. */
export function talkWordings(): Wording[] {
  return [...consent(), ...joining(), ...misread(), ...codes(), ...questions(), ...organising()]
}

function consent(): Wording[] {
  return [
    asText("consent invite", inviteText(garden), { ...carrier, replies: "one" }),
    asText("consent still you", stillYouText(person, garden), { replies: "one" }),
    asText("consent stopped text", stopText(person, "text"), carrier),
    asText("consent stopped text, no mail", stopText(aPerson({ email: null }), "text"), carrier),
    asMail("consent stopped mail", stopText(person, "mail")),
    asMail("consent stopped mail, no phone", stopText(aPerson({ phone: null }), "mail")),
    asText("consent wrong number", WRONG_NUMBER_TEXT, { replies: "none" }),
    asText("stranger text", strangerMessage("text").text, { replies: "none" }),
    asMail("stranger mail subject", strangerMessage("mail").subject),
    asMail("stranger mail", strangerMessage("mail").text),
    asMail("proof mail subject", PROOF_MAIL.subject),
    asMail("proof mail", PROOF_MAIL.text),
  ]
}

function joining(): Wording[] {
  const naming: Naming = {
    species: (id) => handbook().species.get(id)?.names[0] ?? id,
    day: (on) => showWeekday(on, TODAY),
  }
  const species = ["crimson-clover", "annual-ryegrass", "daikon-radish", "phacelia"].map((id) => ({ id, share: null }))
  const sown = { on: day("2025-09-20"), isSown: true, species }
  const joined = (sowing: SaidSowing | null) => joinedText(LONG.person, LONG.bed, sowing, naming, "text")
  return [
    asText("join ask yes", confirmText, carrier),
    asText("join ask name", askNameText(garden)),
    asText("join ask bed", askBedText(LONG.person, "us")),
    asText("join ask bed, metric", askBedText(LONG.person, "metric")),
    asText("join ask size", askSizeText(LONG.bed, "us")),
    asText("join ask size, metric", askSizeText(LONG.bed, "metric")),
    asText("join ask sowing", askSowingText(LONG.bed)),
    asText("join joined, sown", joined(sown), carrier),
    asText("join joined, planned", joined({ on: day("2026-08-20"), isSown: false, species }), carrier),
    asText("join joined, nothing yet", joined(null), carrier),
    asMail("join by mail invite", inviteMailText(garden)),
    asMail("join by mail proof", proveText(garden)),
    asMail("join by mail joined", joinedText(LONG.person, LONG.bed, sown, naming, "mail")),
    asText("beds ask", askNewBedText("us")),
    asText("beds ask, metric", askNewBedText("metric")),
    asText("beds added", bedAddedText(LONG.bed, "1.2 x 2.4 m", sown, naming)),
    asText("beds added, nothing sown", bedAddedText(LONG.bed, "1.2 x 2.4 m", null, naming)),
    asText("beds known", bedKnownText(LONG.bed)),
    asText("beds dropped", bedDroppedText(LONG.bed)),
    asText("beds last", lastBedText(LONG.bed), carrier),
    asText("beds too many", tooManyBedsText(30)),
    asText("beds which", whichBedText([LONG.bed, LONG.otherBed, LONG.thirdBed])),
    asText("beds which, many", whichBedText(["A", "B", "C", "D"])),
    asText("beds in a file", bedsInFileText(garden)),
    asText("join member", memberText(LONG.person, LONG.garden), carrier),
  ]
}

/** What each answer that cannot be read is told, once more with the question. */
function misread(): Wording[] {
  const expected = (read: { expected?: string } | { value: unknown }) =>
    "expected" in read ? (read.expected ?? "") : ""
  const sowing = (text: string) => expected(readSowing(text, handbook(), TODAY, "month-first"))
  const again = (name: string, wanted: string, question: string, rules = {}) =>
    asText(`join misread ${name}`, askAgainText(wanted, question), rules)
  return [
    again("yes", "a yes first", confirmText, carrier),
    again("name", expected(readFirstName("717 555 0142")), ASK_NAME),
    again("name too long", expected(readFirstName("a".repeat(90))), ASK_NAME),
    again("bed", expected(readBed("a".repeat(90), "us", () => false)), askBedAgain("us")),
    again("size", "a size with its unit", askSizeText(LONG.bed, "us")),
    again("sowing, no day", sowing("oats"), askSowingText(LONG.bed)),
    again("sowing, no cover", sowing("60 20 Sep"), askSowingText(LONG.bed)),
    again("sowing, unknown cover", sowing("flowering quinces 20 Sep"), askSowingText(LONG.bed)),
    again("sowing, several covers", sowing("clover 20 Sep"), askSowingText(LONG.bed)),
  ]
}

function codes(): Wording[] {
  return [
    asText("code for the household", inviteCodeText("482913")),
    asText("code mailed", mailCodeText(LONG.email)),
    asMail("code mail subject", codeMail("482913", LONG.garden).subject),
    asMail("code mail", codeMail("482913", LONG.garden).text),
    asMail("code for a phone", phoneCodeText("482913")),
    asText("code unknown", codeUnknownText),
    asText("code, garden in a file", inFileText(LONG.garden)),
    asText("code, no mail", noMailText),
    asText("code, no address", notMailText(LONG.email)),
    asText("code linked mail", mailLinkedText(LONG.email)),
    asText("code linked phone", phoneLinkedText(LONG.person, LONG.garden), carrier),
    asText("links new", newLinksText(links)),
    asMail("links new mail subject", newLinksMail(garden, links).subject),
    ...linesOf("links new mail", newLinksMail(garden, links).text),
  ]
}

function questions(): Wording[] {
  const many = [LONG.bed, LONG.otherBed, LONG.thirdBed]
  return [
    asText("question which garden", whichGardenText([LONG.garden, "Hill Lots", "Riverside Allotments"])),
    asText("question which garden, many", whichGardenText(["A", "B", "C", "D"])),
    asText("question which bed of a photo", whichPhotoText(many)),
    asText("question which bed of a photo, many", whichPhotoText([...many, "D"])),
  ]
}

function organising(): Wording[] {
  const told = (
    name: string,
    known: Parameters<typeof organiserMessage>[0],
    gone: Parameters<typeof organiserMessage>[2],
  ) => {
    const { subject, text } = organiserMessage(known, garden, gone)
    return [asMail(`organiser ${name}, subject`, subject), asText(`organiser ${name}`, text, { replies: "none" })]
  }
  const reach = { name: LONG.person, lastSent: null, lastFailed: null }
  const failed = { on: day("2026-05-04"), code: "30003" }
  const overview = {
    garden: LONG.garden,
    invite: "meadow",
    mail: null,
    on: TODAY,
    plots: [
      {
        garden: "Maximiliane's garden",
        people: [
          { ...reach, text: "held", mail: "stopped", lastFailed: failed } as const,
          { ...reach, name: "Ben", text: "not asked", mail: "none" } as const,
          { ...reach, name: "Cyd", text: "not confirmed", mail: "open" } as const,
          { ...reach, name: "Dan", text: "none", mail: "none" } as const,
        ],
        overdue: [
          { bed: LONG.bed, by: day("2026-05-05") },
          { bed: LONG.otherBed, by: day("2026-04-20") },
        ],
      },
    ],
    more: 0,
  }
  const quiet = { ...overview, plots: [{ garden: "Plot 1", people: [], overdue: [] }] }
  const mails = [organiserMail(overview, LONG.link), organiserMail(quiet, null)]
  return [
    ...told("phone of no use", person, { channel: "text", wrongNumber: false }),
    ...told("mailbox of no use", person, { channel: "mail", wrongNumber: false }),
    ...told("phone of a stranger, no mail", { ...person, email: null }, { channel: "text", wrongNumber: true }),
    ...mails.flatMap(({ subject, text }) => [
      asMail("organiser weekly mail subject", subject),
      ...linesOf("organiser weekly mail", text),
    ]),
  ]
}

function linesOf(name: string, text: string): Wording[] {
  const lines = text.split("\n").map((line) => line.trim())
  return lines.filter((line) => line !== "").map((line) => asMail(name, line))
}
