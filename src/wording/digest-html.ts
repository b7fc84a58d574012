import { DARK, LIGHT, SIZE, TYPE } from "./design-tokens.ts"
import type { DigestFacts, Line, Part } from "./digest-facts.ts"
import { html, type Markup, type Piece, raw } from "./html.ts"

/*
 * What mail programs bear: tables that only lay out, styles on each element (many programs drop style sheets), one column
 * of at most 600 px, no outside picture, no script. The style sheet only adds what may be lost: dark colours and phones.
 */

const BODY = `font-family:${TYPE.mail.replaceAll('"', "'")};font-size:${SIZE.text}px;line-height:1.5;color:${LIGHT.ink}`

const SHEET = `
body{margin:0;padding:0;background:${LIGHT.ground}}
a{color:${LIGHT.link}}
@media (max-width:620px){.edge{padding:20px 16px !important}.press{display:block !important;text-align:center}
.bleed{margin-left:-16px !important;margin-right:-16px !important}.bleed img{max-width:none !important;border-radius:0 !important}}
@media (prefers-color-scheme:dark){
body,.ground{background:${DARK.ground} !important}
.card{background:${DARK.paper} !important;border-color:${DARK.rule} !important}
.ink{color:${DARK.ink} !important}
.soft{color:${DARK.soft} !important}
.rule{border-color:${DARK.rule} !important}
.act{border-color:${DARK.act} !important}
a{color:${DARK.link} !important}
a.press{color:${DARK.ink} !important;border-color:${DARK.act} !important;background:${DARK.paper} !important}
}
[data-ogsc] .ink{color:${DARK.ink} !important}
[data-ogsc] .soft{color:${DARK.soft} !important}
[data-ogsc] .card{background:${DARK.paper} !important}
[data-ogsc] a{color:${DARK.link} !important}`

/** The mail as HTML. `picture` is the address of the season picture: a content id in a mail, a file beside it elsewhere. */
export function digestHtml(facts: DigestFacts, picture: string): string {
  const parts = facts.quiet
    ? html`${pictureOf(facts, picture)}${facts.parts.map((part) => part.lines.map(quietLine))}`
    : facts.parts.map((part) => partOf(part, facts, picture))
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="supported-color-schemes" content="light dark">
<meta name="format-detection" content="telephone=no, date=no, address=no, email=no">
<title>${facts.subject}</title>
<style>${raw(SHEET)}
</style>
</head>
<body class="ground" style="margin:0;padding:0;background:${LIGHT.ground}">
<div class="ground" role="article" aria-label="${facts.subject}" style="background:${LIGHT.ground}">
${raw(`<!--[if mso]><table role="presentation" width="${SIZE.mailWidth}" align="center"><tr><td><![endif]-->`)}
<table role="presentation" style="width:100%;max-width:${SIZE.mailWidth}px;margin:0 auto;border-collapse:collapse"><tbody>
<tr><td class="card edge ink" style="${BODY};background:${LIGHT.paper};padding:28px 32px">
<p class="soft" style="margin:0 0 4px;font-size:${SIZE.small}px;color:${LIGHT.soft}">${facts.dateline}</p>
<h1 class="ink" style="margin:0 0 8px;font-size:24px;line-height:1.25;color:${LIGHT.ink}">${facts.headline}.</h1>
${parts}
</td></tr>
</tbody></table>
${raw("<!--[if mso]></td></tr></table><![endif]-->")}
</div>
</body>
</html>
`.text
}

function partOf(part: Part, facts: DigestFacts, picture: string): Markup {
  const title = html`<h2 class="ink rule" style="margin:28px 0 10px;padding:14px 0 0;border-top:1px solid ${LIGHT.rule};font-size:18px;line-height:1.3;color:${
    LIGHT.ink
  }">${part.title}</h2>`
  if (part.part === "week") return html`${title}${part.lines.map(actOf)}`
  const list = html`<ul class="ink" style="margin:0;padding:0 0 0 20px">${part.lines.map(itemOf)}</ul>`
  return part.part === "beds" ? html`${title}${pictureOf(facts, picture)}${list}` : html`${title}${list}`
}

/** A thing to do stands by an orange edge; the words come first, so it is one without the colour too. */
function actOf(line: Line): Markup {
  if (!line.more && !line.links) return shortActOf(line)
  return html`<div class="act" style="margin:0 0 16px;padding:2px 0 2px 14px;border-left:4px solid ${LIGHT.act}"><p class="ink" style="margin:0 0 4px;font-weight:bold;color:${
    LIGHT.ink
  }">${line.words}</p>${(line.more ?? []).map(
    (more) => html`<p class="soft" style="margin:0 0 4px;color:${LIGHT.soft}">${more}</p>`,
  )}${buttonsOf(line)}</div>`
}

/** What is only named, where a week holds many things: it takes a line and no more. */
function shortActOf(line: Line): Markup {
  return html`<p class="act ink" style="margin:0 0 6px;padding:0 0 0 14px;border-left:4px solid ${LIGHT.act};color:${LIGHT.ink}">${line.words}</p>`
}

function buttonsOf(line: Line): Piece {
  if (!line.links || line.links.length === 0) return null
  return html`<p style="margin:8px 0 0">${line.links.map(
    (link) =>
      html`<a class="press" href="${link.to}" style="display:inline-block;margin:0 8px 8px 0;padding:10px 16px;border:2px solid ${
        LIGHT.act
      };border-radius:6px;background:${LIGHT.paper};color:${LIGHT.ink};font-weight:bold;text-decoration:none;line-height:22px">${link.words}</a>`,
  )}</p>`
}

function itemOf(line: Line): Markup {
  const more = (line.more ?? []).map(
    (words) => html`<br><span class="soft" style="color:${LIGHT.soft}">${words}</span>`,
  )
  return html`<li class="ink" style="margin:0 0 8px;color:${LIGHT.ink}">${line.words}${more}${linksOf(line)}</li>`
}

function quietLine(line: Line): Markup {
  const more = (line.more ?? []).map((words) => html` ${words}`)
  return html`<p class="ink" style="margin:0 0 8px;color:${LIGHT.ink}">${line.words}${more}${linksOf(line)}</p>`
}

function linksOf(line: Line): Piece {
  return (line.links ?? []).map(
    (link) =>
      html` <a href="${link.to}" style="color:${LIGHT.link};display:inline-block;padding:4px 8px 4px 0">${link.words}</a>`,
  )
}

function pictureOf(facts: DigestFacts, picture: string): Markup {
  return html`<p class="bleed" style="margin:0 0 14px"><img src="${picture}" alt="${facts.alt}" width="${
    SIZE.mailWidth - 64
  }" style="display:block;width:100%;max-width:${SIZE.mailWidth - 64}px;height:auto;border:0;border-radius:6px;background:#ffffff"></p>`
}
