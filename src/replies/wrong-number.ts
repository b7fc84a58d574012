/**
 * Says that the phone is not the person's we write to: the number was mistyped, or belongs to somebody else by now
 * (failure P2). Common wordings in five languages; common practice, no source.
 */
const WORDINGS: readonly RegExp[] = [
  /\bwrong (?:number|person|phone|nbr|num|no|guy|girl|one)\b/,
  /\b(?:have|got|reached|texting|texted|messaging) (?:the |a )?wrong\b/,
  /\bnot (?:the )?right (?:number|person)\b/,
  /\b(?:who|whos|who s|whose) (?:is|are|dis|tf is|the hell is)? ?(?:this|dis|you|u)\b(?! (?:for|bed|plant|weed|one|grow|say|reminder))/,
  /\bwho dis\b/,
  /\bnew (?:phone|number) who\b/,
  /\b(?:this|it) (?:is not|isn t|isnt|ain t|aint) (?:my|his|her|their|the) (?:number|garden|phone)\b/,
  /\b(?:do i|i don t|i dont|i do not) know (?:who )?(?:you|u)\b/,
  /\bdon t know (?:any|anyone|anybody) (?:called|named|by)\b/,
  /\b(?:i|we) (?:don t|dont|do not) (?:have|own|keep) (?:a|any) gardens?\b/,
  /\bnever (?:signed|subscribed|joined|asked for th)/,
  /\b(?:didn t|didnt|did not) sign up\b/,
  /\b(?:no longer|not) (?:has|have|at|owns?|uses?) this (?:number|phone)\b/,
  /\b(?:changed|has a new|have a new|got a new) (?:number|phone)\b/,
  /\bnumero (?:equivocado|incorrecto)\b/,
  /\bquien (?:es|eres)\b/,
  /\b(?:falsche|verkehrte) (?:nummer|person)\b/,
  /\bwer (?:ist (?:das|da|dort)|bist du|sind sie)\b/,
  /\b(?:mauvais|faux) numero\b/,
  /\bqui (?:est ce|etes vous|es tu)\b/,
  /\bverkeerd nummer\b/,
]
/** The words of a reply that is about the garden after all. */
const MOST_WORDS = 14

/** Does a text say that it went to the wrong phone? `names`: what the person is called, "this is not Ines". */
export function saysWrongNumber(text: string, names: readonly string[]): boolean {
  const words = folded(text)
  if (words.split(" ").length > MOST_WORDS) return false
  return WORDINGS.some((wording) => wording.test(words)) || names.some((name) => deniesName(words, folded(name)))
}

function deniesName(words: string, name: string): boolean {
  if (name === "") return false
  const of = name.replace(/[^a-z0-9 ]/g, "")
  return new RegExp(
    `\\b(?:not|no|no soy|nicht|isn t|isnt) (?:an? |the )?${of}\\b(?! (?:bed|done|said|told|did|yet))|\\bno ${of} (?:here|at this)\\b|\\bknow (?:an? |no |any )?${of}\\b`,
  ).test(words)
}

function folded(text: string): string {
  return text
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, " ")
    .trim()
}
