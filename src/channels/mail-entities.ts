/** Names of the letters 160 to 255 in HTML, in their order (HTML standard, named character references). */
const LATIN =
  "nbsp iexcl cent pound curren yen brvbar sect uml copy ordf laquo not shy reg macr deg plusmn sup2 sup3 acute micro para middot cedil sup1 ordm raquo frac14 frac12 frac34 iquest Agrave Aacute Acirc Atilde Auml Aring AElig Ccedil Egrave Eacute Ecirc Euml Igrave Iacute Icirc Iuml ETH Ntilde Ograve Oacute Ocirc Otilde Ouml times Oslash Ugrave Uacute Ucirc Uuml Yacute THORN szlig agrave aacute acirc atilde auml aring aelig ccedil egrave eacute ecirc euml igrave iacute icirc iuml eth ntilde ograve oacute ocirc otilde ouml divide oslash ugrave uacute ucirc uuml yacute thorn yuml".split(
    " ",
  )

const NAMED: ReadonlyMap<string, string> = new Map([
  ...LATIN.map((name, i) => [name, String.fromCodePoint(160 + i)] as const),
  ["amp", "&"],
  ["lt", "<"],
  ["gt", ">"],
  ["quot", '"'],
  ["apos", "'"],
  ["ndash", "–"],
  ["mdash", "—"],
  ["lsquo", "‘"],
  ["rsquo", "’"],
  ["sbquo", "‚"],
  ["ldquo", "“"],
  ["rdquo", "”"],
  ["bdquo", "„"],
  ["hellip", "…"],
  ["bull", "•"],
  ["trade", "™"],
  ["euro", "€"],
  ["prime", "′"],
  ["Prime", "″"],
  ["minus", "−"],
  ["le", "≤"],
  ["ge", "≥"],
  ["ne", "≠"],
  ["asymp", "≈"],
  ["rarr", "→"],
  ["larr", "←"],
  ["lsaquo", "‹"],
  ["rsaquo", "›"],
  ["OElig", "Œ"],
  ["oelig", "œ"],
  ["Scaron", "Š"],
  ["scaron", "š"],
  ["Yuml", "Ÿ"],
  ["ensp", " "],
  ["emsp", " "],
  ["thinsp", " "],
  ["zwnj", ""],
  ["zwj", "\u200d"],
  ["lrm", ""],
  ["rlm", ""],
  ["colon", ":"],
  ["comma", ","],
  ["excl", "!"],
  ["quest", "?"],
  ["num", "#"],
  ["lpar", "("],
  ["rpar", ")"],
  ["period", "."],
  ["sol", "/"],
  ["lowbar", "_"],
  ["commat", "@"],
  ["percnt", "%"],
  ["plus", "+"],
  ["equals", "="],
  ["check", "✓"],
  ["checkmark", "✓"],
])

/** Letters written as `&name;` or by number; what is no such name stays as it is. */
export function decodeEntities(text: string): string {
  if (!text.includes("&")) return text
  return text.replace(
    /&(?:#[xX]([0-9a-fA-F]{1,6})|#([0-9]{1,7})|([a-zA-Z][a-zA-Z0-9]{1,10}));?/g,
    (whole, hex, decimal, name) => {
      if (name !== undefined) return NAMED.get(name) ?? whole
      return letterOf(hex === undefined ? Number.parseInt(decimal, 10) : Number.parseInt(hex, 16))
    },
  )
}

function letterOf(code: number): string {
  // Numbers 128 to 159 mean windows-1252 in what people's programs write (HTML standard, numeric references).
  if (code >= 128 && code <= 159) return new TextDecoder("windows-1252").decode(Uint8Array.of(code))
  const isLetter = code > 0 && code <= 0x10ffff && !(code >= 0xd800 && code <= 0xdfff)
  return isLetter ? String.fromCodePoint(code) : ""
}
