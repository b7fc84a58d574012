/**
 * The default alphabet of short messages, GSM 7-bit. Source: 3GPP TS 23.038, "Alphabets and language-specific
 * information", clause 6.2.1 (default alphabet) and 6.2.1.1 (extension table), from memory; the counts of the tests are
 * held against cases that another program reckoned.
 */
const BASIC =
  "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ" +
  " !\"#¤%&'()*+,-./0123456789:;<=>?" +
  "¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§" +
  "¿abcdefghijklmnopqrstuvwxyzäöñüà"

/** Each of these is sent as an escape and a letter: two units that stay together. */
const EXTENSION = "\f^{}\\[~]|€"

const UNITS: ReadonlyMap<string, 1 | 2> = new Map([
  ...[...BASIC].map((letter): [string, 1] => [letter, 1]),
  ...[...EXTENSION].map((letter): [string, 2] => [letter, 2]),
])

/** Units that a character takes in the 7-bit alphabet; undefined where it is not in it. */
export function gsm7Units(character: string): 1 | 2 | undefined {
  return UNITS.get(character)
}

/** Is every character of a text in the 7-bit alphabet? */
export function isGsm7(text: string): boolean {
  for (const character of text) if (!UNITS.has(character)) return false
  return true
}
