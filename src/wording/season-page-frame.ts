import { paletteCss, SIZE, TYPE } from "./design-tokens.ts"
import { html, type Markup, oneLine, type Piece, raw } from "./html.ts"
import { chartColours } from "./season-chart-paint.ts"

/**
 * The one style sheet of all pages. It stands in each page, so that the first paint waits for nothing; the web server
 * allows it by its hash and allows no other style and no script at all.
 */
export const PAGE_CSS = [
  paletteCss(),
  `*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:var(--ground);color:var(--ink);font:${SIZE.text}px/1.5 ${TYPE.page}}
main,header,footer{max-width:${SIZE.pageWidth}px;margin:0 auto;padding:0 16px}
header{padding-top:20px;padding-bottom:12px}footer{padding-bottom:32px;color:var(--soft)}
h1{font-size:26px;line-height:1.2;margin:0}h2{font-size:20px;line-height:1.3;margin:32px 0 10px}h3{font-size:17px;line-height:1.35;margin:0 0 4px}
p{margin:0 0 8px}.soft{color:var(--soft)}.words{overflow-wrap:anywhere;white-space:pre-line}
a{color:var(--link);text-underline-offset:3px}
a:focus-visible,button:focus-visible,select:focus-visible,input:focus-visible,textarea:focus-visible,summary:focus-visible{outline:3px solid var(--ink);outline-offset:2px}
.skip{position:absolute;left:-999px}.skip:focus{left:8px;top:8px;background:var(--paper);padding:12px}
.card{background:var(--paper);border:1px solid var(--rule);border-radius:8px;padding:14px 16px;margin:0 0 12px;overflow-wrap:anywhere}
.do{border-left:6px solid var(--act)}
.said{border-left:6px solid var(--living)}
form{margin:12px 0 0}.row{display:flex;flex-wrap:wrap;gap:8px;align-items:center}.row+.row{margin-top:8px}
button,select,input,textarea{font:inherit;color:var(--ink);background:var(--paper);border:2px solid var(--edge);border-radius:6px;min-height:${SIZE.target}px;padding:8px 14px}
button{font-weight:bold;cursor:pointer;border-color:var(--act)}button.quiet{border-color:var(--edge);font-weight:normal}
button.main{background:var(--act);color:var(--onAct)}
textarea{width:100%;min-height:96px;padding:10px}
label{display:block;font-weight:bold;margin:0 0 4px}
summary{padding:10px 0;cursor:pointer;font-weight:bold}
.links a{display:inline-block;padding:10px 14px 10px 0}.card p a{display:inline-block;padding:6px 0}
.key{display:flex;flex-wrap:wrap;gap:4px 16px;margin:8px 0;padding:0;list-style:none;font-size:${SIZE.small}px}.key li{display:flex;gap:6px;align-items:center}
.notes{font-size:${SIZE.small}px;color:var(--soft);margin:0;padding:0;list-style:none}
svg{display:block}.chart{overflow:visible}.wide{display:none}@media (min-width:740px){.wide{display:inline}}
@media (max-width:480px){table{table-layout:fixed}thead th+th{width:auto}}
.beds{display:grid;gap:0 12px;align-items:start;grid-template-columns:repeat(auto-fit,minmax(min(100%,330px),1fr))}
table{width:100%;border-collapse:collapse}caption{text-align:left;font-weight:bold;font-size:17px;padding:0 0 4px}
th,td{text-align:left;vertical-align:top;padding:5px 8px 5px 0;border-top:1px solid var(--rule);overflow-wrap:anywhere}
th{font-weight:normal;color:var(--soft);width:42%}.yours th{font-weight:bold;color:var(--ink)}td span{white-space:nowrap}td .soft{white-space:normal}table.year th{width:28%}thead th{font-size:${SIZE.small}px;font-weight:bold;border-top:0}
ol.log{list-style:none;margin:0;padding:0}ol.log li{border-top:1px solid var(--rule);padding:10px 0}
blockquote{margin:2px 0;padding:0;font-size:${SIZE.text}px}
img{display:block;max-width:100%;height:auto;border-radius:6px}`,
  chartColours("page"),
  `@media print{@page{margin:11mm}body{background:#fff;font-size:9pt;line-height:1.25}.noprint,.seen,thead,.many .inwords{display:none}.wide{display:inline}
main,header,footer{max-width:none;padding:0}h1{font-size:15pt}h2{font-size:11pt;margin:8pt 0 4pt}.card{border:0;padding:0;margin:0 0 6pt;break-inside:avoid}
.beds{display:block;columns:2;column-gap:8mm}caption{font-size:10pt;padding:0}caption br{display:none}caption .soft{font-weight:normal}caption .soft::before{content:", "}th,td{padding:1pt 4pt 1pt 0}td span{white-space:normal}a{color:inherit;text-decoration:none}.key,.notes{font-size:8pt}}`,
].join("\n")

/** A whole page. `title` and `body` come escaped; nothing on it needs a script. */
export function pageOf(title: string, body: Piece): string {
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta name="robots" content="noindex, nofollow">
<title>${oneLine(title)}</title>
<style>${raw(PAGE_CSS)}</style>
</head>
<body>
${body}
</body>
</html>
`.text
}

/** A page that says one thing: an answer, a problem, a question with its button. */
export function plainPage(title: string, body: Piece): string {
  return pageOf(title, html`<header><h1>${oneLine(title)}</h1></header><main>${body}</main>`)
}

/** The one page for everything that is not there: a wrong address, a link that ran out, a token that never was. */
export function notFoundPage(): string {
  return plainPage(
    "There is nothing here",
    html`<p>This link is not right, or it has run out. Your next weekly mail brings a fresh one.</p>`,
  )
}

/** Too many wrong addresses from one place. */
export function slowDownPage(): string {
  return plainPage(
    "One moment, please",
    html`<p>Too many wrong links came from your network. Try again in a minute.</p>`,
  )
}

/** A press or note that could not be kept. */
export function notKeptPage(back: string): string {
  return plainPage(
    "That was not kept",
    html`<p>Something is wrong on our side, and what you told was not kept. Please go back and try again in a minute.</p><p class="links"><a href="${back}">Back to your season page</a></p>`,
  )
}

/** A form that is too old, too large or came from elsewhere. */
export function refusedPage(back: string | null): string {
  return plainPage(
    "That did not work",
    html`<p>The page you came from was too old, or the press did not come from it. Nothing was changed.</p>${
      back ? html`<p class="links"><a href="${back}">Open your season page afresh</a></p>` : null
    }`,
  )
}

/** The page that ends the weekly mails: it shows a button, and the button does it. */
export function stopPage(garden: string): string {
  return plainPage(
    "Stop the mails?",
    html`<p>You get mails about ${oneLine(garden)}. One press ends them all, the weekly one among them; what the garden file holds stays as it is.</p><form method="post"><button type="submit" class="main" name="List-Unsubscribe" value="One-Click">Stop these mails</button></form>`,
  )
}

/** What is shown after the mails were ended. */
export function stoppedPage(garden: string): string {
  return plainPage(
    "No more mails",
    html`<p>The mails about ${oneLine(garden)} have ended. To have them back, answer any of them with START.</p>`,
  )
}

/** After a press for new links: where they go, or that they cannot go anywhere. */
export function newLinksPage(way: "mail" | "text" | null, back: string): string {
  if (way === null)
    return plainPage(
      "No new links",
      html`<p>There is no open way to send them to you, by mail or by text, so nothing was changed: this link still works. Whoever runs the bot sees your links when it starts.</p><p class="links"><a href="${back}">Back to your season page</a></p>`,
    )
  return plainPage(
    "New links are on their way",
    html`<p>They come to you by ${way}. This link and all older ones have ended. A calendar program has to be given the new address.</p>`,
  )
}

/** Hidden fields that every form of the season page carries. */
export function hidden(fields: Record<string, string | number>): Markup {
  return html`${Object.entries(fields).map(([name, value]) => html`<input type="hidden" name="${name}" value="${value}">`)}`
}
