/** May a number be texted: `yes`, or no and why, in words for the owner. */
export type TextAllowed = "yes" | { why: string }

/** E.164: a plus, no leading zero, 15 digits at most (ITU-T E.164, 2010). The shortest in use have seven. */
const E164 = /^\+[1-9]\d{6,14}$/

type Denied = readonly [prefix: string, what: string]

/**
 * Numbers that cost far more than a text or are no phone in anyone's hand. Shared country codes: ITU-T list of assigned
 * country codes (complement to E.164); ranges within countries: their national numbering plans. All from memory: the list
 * is a fence against a bill, not a directory.
 */
const DENIED: readonly Denied[] = [
  ["+800", "an international freephone number"],
  ["+808", "an international shared-cost number"],
  ["+870", "a satellite phone"],
  ["+871", "a satellite phone"],
  ["+872", "a satellite phone"],
  ["+873", "a satellite phone"],
  ["+874", "a satellite phone"],
  ["+878", "a universal personal number"],
  ["+881", "a satellite phone"],
  ["+882", "an international network"],
  ["+883", "an international network"],
  ["+888", "a relief operation's number"],
  ["+979", "an international premium-rate number"],
  ["+1500", "a personal number"],
  ["+1521", "a personal number"],
  ["+1522", "a personal number"],
  ["+1533", "a personal number"],
  ["+1544", "a personal number"],
  ["+1566", "a personal number"],
  ["+1577", "a personal number"],
  ["+1588", "a personal number"],
  ["+1600", "a Canadian data or satellite number"],
  ["+1700", "a number of a long-distance company"],
  ["+1710", "a number of the US government"],
  ["+1900", "a premium-rate number"],
  ["+1976", "a premium-rate number"],
  ["+2786", "a shared-cost or premium-rate number"],
  ["+3190", "a premium-rate number"],
  ["+3290", "a premium-rate number"],
  ["+3389", "a premium-rate number"],
  ["+3480", "a premium-rate number"],
  ["+3490", "a premium-rate or freephone number"],
  ["+35860", "a premium-rate number"],
  ["+35870", "a premium-rate number"],
  ["+3989", "a premium-rate number"],
  ["+4190", "a premium-rate number"],
  ["+4390", "a premium-rate number"],
  ["+4393", "a premium-rate number"],
  ["+4470", "a personal number"],
  ["+4484", "a shared-cost number"],
  ["+4487", "a premium-rate number"],
  ["+449", "a premium-rate number"],
  ["+4590", "a premium-rate number"],
  ["+46900", "a premium-rate number"],
  ["+46939", "a premium-rate number"],
  ["+46944", "a premium-rate number"],
  ["+4782", "a premium-rate number"],
  ["+4870", "a premium-rate number"],
  ["+49137", "a number for mass calls"],
  ["+49180", "a shared-cost number"],
  ["+49190", "a premium-rate number"],
  ["+49700", "a personal number"],
  ["+49900", "a premium-rate number"],
  ["+6113", "a shared-cost number"],
  ["+6119", "a premium-rate number"],
  ["+64900", "a premium-rate number"],
  ["+7809", "a premium-rate number"],
  ["+81990", "a premium-rate number"],
]

/** Within +1 an exchange of 976 is premium rate (North American Numbering Plan, from memory). */
const NANP_976 = /^\+1\d{3}976\d{4}$/

/**
 * Area codes of +1 that lie outside the United States (with Puerto Rico) and Canada: a text there costs what one to another
 * country costs, and naming `1` does not open them. North American Numbering Plan, from memory.
 */
const NANP_ELSEWHERE = new Set(
  "242 246 264 268 284 345 441 473 649 658 664 721 758 767 784 809 829 849 868 869 876".split(" "),
)

/**
 * May this number be texted? Only numbers in E.164, none that is dear by nature, and only of the countries that the owner
 * named: `countries` are calling codes as digits, `1` (USA, Canada), `44`, `1876` (Jamaica) (failures X9, X10).
 */
export function mayText(number: string, { countries }: { countries: readonly string[] }): TextAllowed {
  if (!E164.test(number)) return { why: "not a number in international form (+, country, number)" }
  const denied = DENIED.find(([prefix]) => number.startsWith(prefix))
  if (denied) return { why: `${denied[1]}; it is never texted` }
  if (NANP_976.test(number)) return { why: "a premium-rate number; it is never texted" }
  const area = /^\+1(\d{3})/.exec(number)?.[1]
  if (area !== undefined && number.length !== 12) return { why: "a number of North America has ten digits behind +1" }
  const wanted = area !== undefined && NANP_ELSEWHERE.has(area) ? [`1${area}`] : null
  const open = countries
    .map((code) => code.replace(/\D/g, ""))
    .some((code) => code !== "" && (wanted ? wanted.includes(code) : number.startsWith(`+${code}`)))
  return open ? "yes" : { why: "a number of a country that is not switched on" }
}

/**
 * The calling code to open where the owner named none: that of the number that sends. Country codes of one and two digits
 * are told by the list of the two-digit ones; all others have three (ITU-T list of assigned codes, from memory).
 */
export function callingCodeOf(number: string): string | null {
  if (!E164.test(number)) return null
  const digits = number.slice(1)
  if (digits[0] === "1") return NANP_ELSEWHERE.has(digits.slice(1, 4)) ? digits.slice(0, 4) : "1"
  if (digits[0] === "7") return "7"
  return TWO_DIGITS.has(digits.slice(0, 2)) ? digits.slice(0, 2) : digits.slice(0, 3)
}

const TWO_DIGITS = new Set(
  "20 27 30 31 32 33 34 36 39 40 41 43 44 45 46 47 48 49 51 52 53 54 55 56 57 58 60 61 62 63 64 65 66 81 82 84 86 90 91 92 93 94 95 98".split(
    " ",
  ),
)
