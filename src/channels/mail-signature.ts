import { folded } from "./mail-folded.ts"
import { DEVICES, EXCUSES, SENT_FROM } from "./mail-signature-words.ts"

/** Longest line that a phone or a program puts under a mail. */
const MOST = 160

/** The mark above a signature: two dashes alone on a line (RFC 3676, 4.3; the blank behind them is often lost). */
export function isSignatureMark(line: string): boolean {
  return line.trim() === "--"
}

/** A line that a phone or a mail program adds by itself: "Sent from my …". */
export function isSentFrom(line: string): boolean {
  if (line.length > MOST) return false
  const said = folded(line)
    .trim()
    .replace(/^[-*_> ]+/, "")
  // The line of one office program, which comes in every language.
  if (/\boutlook\b.{0,40}\b(ios|android)\b/.test(said) && /aka\.ms|^.{0,60}$/.test(said)) return true
  const opener = SENT_FROM.find((each) => said.startsWith(each))
  if (!opener) return false
  const behind = said.slice(opener.length)
  const sentence = behind.split(/(?<=[a-z0-9"')\]])[.!,;](?:\s|$)/)
  const [about = "", ...more] = sentence
  const namesDevice = DEVICES.some((device) => startsWord(`${said.slice(0, opener.length)}${about}`, device))
  const rest = more.join(" ").trim()
  return namesDevice && about.split(" ").length <= 12 && !/:\s/.test(about) && isExcuse(rest)
}

/** What follows the first sentence of such a line is an excuse or an address, or it is somebody's words. */
function isExcuse(rest: string): boolean {
  if (rest === "") return true
  return EXCUSES.some((excuse) => startsWord(rest, excuse)) || /^(a )?(samsung|lg|htc|verizon|an? )/.test(rest)
}

function startsWord(text: string, word: string): boolean {
  const at = text.indexOf(word)
  if (at < 0) return false
  return at === 0 || !/[\p{L}\d]/u.test(text[at - 1] ?? "") || startsWord(text.slice(at + 1), word)
}

/** Names of pictures that programs leave where a picture stood: `<IMG_1.jpeg>`, `[image: x.png]`, `[cid:image001.png@…]`. */
export function withoutPictureNames(line: string): string {
  return line
    .replace(
      /\[(?:image|bild|imagen|immagine|afbeelding|imagem|billede|obraz|inline image|cid)[: ][^\][]{0,200}\]/gi,
      "",
    )
    .replace(/<(?:cid:)?[^<>@:/]{1,120}\.(?:jpe?g|png|gif|heic|heif|webp|pdf|mov|mp4)>/gi, "")
}
