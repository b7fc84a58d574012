import { eml, type Sample } from "./reply-of-samples.ts"

/**
 * More programs and languages that quote us, written before the reader was tried on them; the forms are from memory of what
 * such programs write. No sample is anybody's mail.
 */

const OURS = `Ryebell for Long Acre

1) South bed can be cut from today, best 8-14 May. Cut low, leave the roots in. Reply DONE 1, or SNOOZE 1 SAT.
2) Kitchen bed: water it in, about 5 gal. Reply UP when you see green.`
const QUOTE = OURS.split("\n")
  .map((line) => `> ${line}`)
  .join("\n")
const BOT = "Ryebell <bot@garden.example.net>"

const plain = (name: string, body: string, reply: string): Sample => ({ name, eml: eml({ body }), reply })
const marked = (name: string, introduction: string, reply = "done 1"): Sample =>
  plain(name, `${reply}\n\n${introduction}\n\n${QUOTE}\n`, reply)

export const CLIENTS: Sample[] = [
  marked("Hungarian", `${BOT} ezt írta (időpont: 2026. máj. 9., Szo, 7:00):`),
  marked("Turkish", `${BOT}, 9 May 2026 Cmt, 07:00 tarihinde şunu yazdı:`),
  marked("Greek", `Στις Σάβ 9 Μαΐ 2026 στις 7:00 π.μ., ο χρήστης ${BOT} έγραψε:`),
  marked("Ukrainian", `сб, 9 трав. 2026 р. о 07:00 ${BOT} пише:`),
  marked("Japanese", `2026年5月9日(土) 7:00 ${BOT}:`),
  marked("Korean", `2026년 5월 9일 (토) 오전 7:00, ${BOT}님이 작성:`),
  marked("Romanian", `În sâm., 9 mai 2026 la 07:00, ${BOT} a scris:`),
  marked("Croatian", `sub, 9. svi 2026. u 07:00 ${BOT} napisao je:`),
  marked("Slovak", `so 9. 5. 2026 o 7:00 ${BOT} napísal(a):`),
  marked("Vietnamese", `Vào Th 7, 9 thg 5, 2026 vào lúc 07:00 ${BOT} đã viết:`),
  marked("Catalan", `Missatge de ${BOT} del dia ds., 9 de maig 2026 a les 7:00:`),
  marked(
    "Hebrew, with marks of direction",
    "\u202bבתאריך שבת, 9 במאי 2026 ב-7:00 מאת \u202aRyebell\u202c\u200f <\u202abot@garden.example.net\u202c\u200f>:\u202c",
  ),
  marked("Bulgarian", `На сб, 9.05.2026 г. в 7:00 ${BOT} написа:`),
  marked("Indonesian", `Pada tanggal Sab, 9 Mei 2026 pukul 07.00 ${BOT} menulis:`),
  marked("Norwegian", `lør. 9. mai 2026 kl. 07:00 skrev ${BOT}:`),
  marked("Dutch, desktop program", "Op 09-05-2026 om 07:00 schreef Ryebell:"),
  marked("French, desktop program", "Le 09/05/2026 à 07:00, Ryebell a écrit :"),
  marked("verb between dashes", `---- On Sat, 09 May 2026 07:00:12 -0400 ${BOT} wrote ---`),
  marked("old terminal program", `* ${BOT} [2026-05-09 07:00]:`),
  marked("editor's mail program", `${BOT} writes:`),
  marked("only a name and a verb", "Ryebell wrote:"),
  marked(
    "private mail program, its own line first",
    `Sent with a private mail program's secure email.\n\nOn Saturday, May 9th, 2026 at 7:00 AM, ${BOT} wrote:`,
  ),
  plain(
    "Czech webmail, block under a title, nothing marked",
    `posekáno\n\n---------- Původní e-mail ----------\nOd: ${BOT}\nKomu: ines@example.org\nDatum: 9. 5. 2026 7:00:00\nPředmět: 2 things\n\n${OURS}\n`,
    "posekáno",
  ),
  plain(
    "Chinese webmail",
    `done 1\n\n------------------ 原始邮件 ------------------\n发件人: "Ryebell" <bot@garden.example.net>;\n发送时间: 2026年5月9日(星期六) 上午7:00\n收件人: "Ines"<ines@example.org>;\n主题: 2 things\n\n${OURS}\n`,
    "done 1",
  ),
  plain(
    "Danish office program",
    `Slået i morges\n\nFra: ${BOT}\nSendt: 9. maj 2026 07:00\nTil: Ines <ines@example.org>\nEmne: 2 things\n\n${OURS}\n`,
    "Slået i morges",
  ),
  plain(
    "webmail whose quote is not marked",
    `not up yet\n\n    On Saturday, May 9, 2026 at 07:00:12 AM EDT, ${BOT} wrote:  \n \n ${OURS.split("\n").join("\n ")}\n`,
    "not up yet",
  ),
  plain(
    "phone with its line above the earlier mail",
    `bloom on south\n\nSent from my Galaxy\n\n-------- Original message --------\nFrom: ${BOT} \nDate: 5/9/26  7:00 AM  (GMT-05:00) \nTo: Ines <ines@example.org> \nSubject: 2 things \n\n${OURS}\n`,
    "bloom on south",
  ),
  plain(
    "office phone app",
    `Skip 2\n\nGet Outlook for iOS<https://aka.ms/o0ukef>\n________________________________\nFrom: ${BOT}\nSent: Saturday, May 9, 2026 7:00:00 AM\nTo: Ines <ines@example.org>\nSubject: 2 things\n\n${OURS}\n`,
    "Skip 2",
  ),
  plain(
    "groupware of an office, labels in capitals",
    `done both\n\n\n\nFrom:\t${BOT}\nTo:\tInes <ines@example.org>\nDate:\t05/09/2026 07:00 AM\nSubject:\t2 things\n\n\n\n${OURS}\n`,
    "done both",
  ),
  plain(
    "answer between quotes, with a signature of a mail program for phones",
    `${QUOTE.split("\n").slice(0, 3).join("\n")}\ndone yesterday\n${QUOTE.split("\n").slice(3).join("\n")}\nnot yet\n-- \nSent from my Android device with a mail program. Please excuse my brevity.\n`,
    "done yesterday\nnot yet",
  ),
  plain(
    "a person who writes of writing is not cut",
    "On Saturday Tom wrote the date on the tag: sown 2 May.\nUp since this morning.\n",
    "On Saturday Tom wrote the date on the tag: sown 2 May.\nUp since this morning.",
  ),
  plain(
    "labels of a person are not cut",
    "From: the shed bed\nTo report: oats are up\nDate seen: 9 May\n",
    "From: the shed bed\nTo report: oats are up\nDate seen: 9 May",
  ),
]
