/** Texts, or parts of them, that a phone or a program wrote and not the gardener. */

const REACTIONS = [
  "liked",
  "loved",
  "disliked",
  "laughed at",
  "emphasized",
  "emphasised",
  "questioned",
  "reacted",
  "removed",
  "le gusto",
  "le encanto",
  "a aime",
  "gefallt",
]
const OF_PICTURES =
  /^(?:an?|the|your) (?:image|photo|picture|video|attachment|audio message|movie|sticker|message|location|link)\b/

const WITHOUT_QUOTE =
  /^(?:reacted \S{1,12} to an? |removed an? (?:like|heart|laugh|dislike|exclamation|question mark|reaction|\S{1,4}) )/

/**
 * What is left of a text once a phone's reaction to one of our texts is taken off it ("Liked "Cut South bed ..."").
 * A reaction is courtesy and the words it quotes are ours: null where nothing else is left, the text itself where there
 * is no reaction.
 */
export function withoutReaction(text: string): string | null {
  const plain = text
    .replaceAll(/[\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufe0f]/g, "")
    .replaceAll(/[“”„«»″]/g, '"')
  const trimmed = plain.trim()
  const folded = trimmed.slice(0, 60).normalize("NFKD").replaceAll(/\p{M}/gu, "").toLowerCase()
  const verb = REACTIONS.find((each) => folded.startsWith(`${each} `))
  const picture = verb
    ? null
    : /^\p{Extended_Pictographic}[\p{Extended_Pictographic}\u200d\ufe0f\u{1f3fb}-\u{1f3ff}]* to "/u.exec(trimmed)
  if (!verb && !picture) return text
  if (verb && OF_PICTURES.test(folded.slice(verb.length + 1))) return null
  const open = trimmed.indexOf('"')
  if (open < 0) return verb && WITHOUT_QUOTE.test(folded) ? null : text
  const close = trimmed.lastIndexOf('"')
  if (close <= open) return null
  const rest = trimmed.slice(close + 1).trim()
  return /\p{L}|\p{N}/u.test(rest) ? rest : null
}

const CODE = [
  /<\/?[a-z!][^<]{0,80}>/i,
  /[=@][A-Z]{2,}\s*\(/,
  /^\s*[=@][a-z]{2,}\s*\(/i,
  /;\s*--/,
  /\b(?:drop|alter|truncate)\s+table\b/i,
  /\bselect\b.{0,40}\bfrom\b.{0,40}\bwhere\b/i,
  /\$\{[^}]{0,40}\}|\{\{[^}]{0,40}\}\}/,
  /\b(?:function|console|document|window|eval|import|alert|system|exec)\s?[.(]/i,
  /&&\s*(?:rm|curl|wget|sudo)\b/i,
  /\b(?:curl|wget|sudo|rm -rf)\s/i,
]
const ORDERS =
  /\b(?:ignore|disregard|forget|override)\b.{0,30}\b(?:instructions?|prompts?|rules|guidelines)\b|\bsystem prompt\b|\byou are (?:now )?(?:an?|my) (?:ai|assistant|bot|llm|language model)\b|\bas an ai\b/i

/** Program code or formulas: nothing in them is acted on. */
export function isCode(text: string): boolean {
  const head = text.slice(0, 2000)
  return CODE.some((pattern) => pattern.test(head))
}

/** Orders to a machine ("ignore your instructions ..."), in words that the spelling has put right. */
export function isOrder(words: readonly string[]): boolean {
  return ORDERS.test(words.slice(0, 400).join(" "))
}
