/**
 * Mails as people's programs write them, made up for these tests: the forms are those of common mail programs in ten
 * languages, from memory of what such programs write. No sample is anybody's mail.
 */

export type Sample = {
  name: string
  eml: Buffer
  reply: string
  auto?: boolean
  bounce?: boolean
  photos?: number
}

const HEAD = [
  "From: Ines <ines@example.org>",
  "To: Ryebell <bot@garden.example.net>",
  "Subject: Re: 2 things for Long Acre this week",
  "Date: Sat, 09 May 2026 09:41:10 -0400",
  "Message-ID: <f1.20260509@mail.example.org>",
  "In-Reply-To: <w19.ines@garden.example.net>",
  "MIME-Version: 1.0",
]

/** What the bot had written, as programs quote it. */
const OURS = `Ryebell for Long Acre

1) Cut South bed by Fri 15 May, before seed drops. Leave the roots in. Reply DONE 1, or SNOOZE 1 SAT.
2) Water Kitchen bed, about 5 gal. Reply UP when green.`

const quoted = (text: string) =>
  text
    .split("\n")
    .map((line) => `> ${line}`)
    .join("\n")

const QUOTE = quoted(OURS)

const QUOTE_HTML =
  "<p>Ryebell for Long Acre</p><p>1) Cut South bed by Fri 15 May, before seed drops. Leave the roots in. Reply DONE 1, or SNOOZE 1 SAT.</p><p>2) Water Kitchen bed, about 5 gal. Reply UP when green.</p>"

type Parts = { head?: string[]; type?: string; encoding?: string; letters?: BufferEncoding; body: string }

export function eml({
  head = HEAD,
  type = "text/plain; charset=utf-8",
  encoding = "8bit",
  letters = "utf8",
  body,
}: Parts): Buffer {
  const lines = [...head, `Content-Type: ${type}`, `Content-Transfer-Encoding: ${encoding}`, "", body]
  return Buffer.from(lines.join("\n").replace(/\r?\n/g, "\r\n"), letters)
}

const text = (name: string, body: string, reply: string, more: Partial<Sample> = {}): Sample => ({
  name,
  eml: eml({ body }),
  reply,
  ...more,
})

const html = (name: string, body: string, reply: string, more: Partial<Sample> = {}): Sample => ({
  name,
  eml: eml({ type: "text/html; charset=utf-8", body }),
  reply,
  ...more,
})

const PIXEL = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
const JPEG = "/9j/4AAQSkZJRgABAQAAAQABAAD/2Q=="

const picture = (type: string, name: string, more: string[] = [], disposition = "attachment") =>
  [
    `Content-Type: ${type}; name="${name}"`,
    "Content-Transfer-Encoding: base64",
    `Content-Disposition: ${disposition}; filename="${name}"`,
    ...more,
    "",
    type === "image/png" ? PIXEL : JPEG,
  ].join("\n")

const part = (type: string, body: string, more: string[] = []) =>
  [`Content-Type: ${type}`, ...more, "", body].join("\n")

const multi = (type: string, parts: string[], boundary = "=_b0undary") => ({
  type: `multipart/${type}; boundary="${boundary}"`,
  body: `${parts.map((each) => `--${boundary}\n${each}`).join("\n")}\n--${boundary}--\n`,
})

const nest = (type: string, parts: string[], boundary: string) => {
  const inner = multi(type, parts, boundary)
  return part(inner.type, inner.body)
}

export const LANGUAGES: Sample[] = [
  text(
    "German, phone, attribution with Uhr",
    `Roggen ist unten\n\nAm Sa., 9. Mai 2026 um 07:00 Uhr schrieb Ryebell <bot@garden.example.net>:\n\n${QUOTE}\n`,
    "Roggen ist unten",
  ),
  text(
    "German, name before the verb",
    `done 1\n\nRyebell <bot@garden.example.net> schrieb am Sa., 9. Mai 2026, 07:00:\n\n${QUOTE}\n`,
    "done 1",
  ),
  text(
    "German phone with signature",
    `nein, noch nicht\n\nVon meinem iPhone gesendet\n\n> Am 09.05.2026 um 07:00 schrieb Ryebell <bot@garden.example.net>:\n> \n${QUOTE}\n`,
    "nein, noch nicht",
  ),
  text(
    "German Outlook block",
    `Erledigt, beide.\n\nGruß\nInes\n\nVon: Ryebell <bot@garden.example.net>\nGesendet: Samstag, 9. Mai 2026 07:00\nAn: Ines <ines@example.org>\nBetreff: 2 things for Long Acre this week\n\n${OURS}\n`,
    "Erledigt, beide.\n\nGruß\nInes",
  ),
  text(
    "German webmail: sent first",
    `snooze 1 fr\n\nGesendet: Samstag, 09. Mai 2026 um 07:00 Uhr\nVon: "Ryebell" <bot@garden.example.net>\nAn: ines@example.org\nBetreff: 2 things\n\n${OURS}\n`,
    "snooze 1 fr",
  ),
  text(
    "German, original message between dashes",
    `gemäht\n\n-----Ursprüngliche Nachricht-----\nVon: Ryebell\nGesendet: Samstag, 9. Mai 2026 07:00\nAn: Ines\nBetreff: 2 things\n\n${OURS}\n`,
    "gemäht",
  ),
  text(
    "French, colon after a blank",
    `c'est fait\n\nLe sam. 9 mai 2026 à 07:00, Ryebell <bot@garden.example.net> a écrit :\n\n${QUOTE}\n`,
    "c'est fait",
  ),
  text(
    "French, colon after a narrow no-break blank, on two lines",
    `fait\n\nLe samedi 9 mai 2026 à 07:00:00 UTC−4, Ryebell pour Long Acre\n<bot@garden.example.net> a écrit\u202f:\n\n${QUOTE}\n`,
    "fait",
  ),
  text(
    "French phone",
    `pas encore\n\nEnvoyé de mon iPhone\n\n> Le 9 mai 2026 à 07:00, Ryebell <bot@garden.example.net> a écrit :\n> \n${QUOTE}\n`,
    "pas encore",
  ),
  text(
    "French Outlook block",
    `Coupé ce matin.\n\n________________________________\nDe : Ryebell <bot@garden.example.net>\nEnvoyé : samedi 9 mai 2026 07:00\nÀ : Ines <ines@example.org>\nObjet : 2 things for Long Acre this week\n\n${OURS}\n`,
    "Coupé ce matin.",
  ),
  text(
    "French, message d'origine",
    `fait 1\n\n-----Message d'origine-----\nDe : Ryebell [mailto:bot@garden.example.net]\nEnvoyé : samedi 9 mai 2026 07:00\nÀ : Ines\nObjet : 2 things\n\n${OURS}\n`,
    "fait 1",
  ),
  text(
    "Spanish",
    `listo\n\nEl sáb, 9 may 2026 a las 7:00, Ryebell (<bot@garden.example.net>) escribió:\n\n${QUOTE}\n`,
    "listo",
  ),
  text(
    "Spanish phone",
    `ya está\n\nEnviado desde mi iPhone\n\n> El 9 may 2026, a las 7:00, Ryebell <bot@garden.example.net> escribió:\n> \n${QUOTE}\n`,
    "ya está",
  ),
  text(
    "Spanish Outlook block",
    `Cortado ayer\n\nDe: Ryebell <bot@garden.example.net>\nEnviado el: sábado, 9 de mayo de 2026 7:00\nPara: Ines <ines@example.org>\nAsunto: 2 things\n\n${OURS}\n`,
    "Cortado ayer",
  ),
  text(
    "Italian",
    `fatto\n\nIl giorno sab 9 mag 2026 alle ore 07:00 Ryebell <bot@garden.example.net> ha scritto:\n\n${QUOTE}\n`,
    "fatto",
  ),
  text(
    "Italian desk program",
    `Il 09/05/2026 07:00, Ryebell ha scritto:\n${QUOTE}\n\nfatto, segale tagliata\n`,
    "fatto, segale tagliata",
  ),
  text(
    "Italian Outlook block and phone",
    `tagliato\n\nInviato da iPhone\n\nDa: Ryebell <bot@garden.example.net>\nInviato: sabato 9 maggio 2026 07:00\nA: Ines <ines@example.org>\nOggetto: 2 things\n\n${OURS}\n`,
    "tagliato",
  ),
  text(
    "Dutch",
    `klaar met 1\n\nOp za 9 mei 2026 om 07:00 schreef Ryebell <bot@garden.example.net>:\n\n${QUOTE}\n`,
    "klaar met 1",
  ),
  text(
    "Dutch phone, perfect tense",
    `nog niet\n\nVerstuurd vanaf mijn iPhone\n\n> Op 9 mei 2026 om 07:00 heeft Ryebell <bot@garden.example.net> het volgende geschreven:\n> \n${QUOTE}\n`,
    "nog niet",
  ),
  text(
    "Dutch Outlook block",
    `Gemaaid\n\nVan: Ryebell <bot@garden.example.net>\nVerzonden: zaterdag 9 mei 2026 07:00\nAan: Ines <ines@example.org>\nOnderwerp: 2 things\n\n${OURS}\n`,
    "Gemaaid",
  ),
  text(
    "Brazilian Portuguese",
    `feito\n\nEm sáb., 9 de mai. de 2026 às 07:00, Ryebell <bot@garden.example.net> escreveu:\n\n${QUOTE}\n`,
    "feito",
  ),
  text(
    "Portuguese, date behind the verb in brackets",
    `feito 1\n\nRyebell <bot@garden.example.net> escreveu (sábado, 9/05/2026 à(s) 07:00):\n\n${QUOTE}\n`,
    "feito 1",
  ),
  text(
    "Portuguese Outlook block and phone",
    `Cortei hoje\n\nEnviado do meu iPhone\n\nDe: Ryebell <bot@garden.example.net>\nEnviada em: sábado, 9 de maio de 2026 07:00\nPara: Ines\nAssunto: 2 things\n\n${OURS}\n`,
    "Cortei hoje",
  ),
  text(
    "Swedish",
    `klart\n\nDen lör 9 maj 2026 kl 07:00 skrev Ryebell <bot@garden.example.net>:\n\n${QUOTE}\n`,
    "klart",
  ),
  text(
    "Swedish phone",
    `inte än\n\nSkickat från min iPhone\n\n> 9 maj 2026 kl. 07:00 skrev Ryebell <bot@garden.example.net>:\n> \n${QUOTE}\n`,
    "inte än",
  ),
  text(
    "Swedish Outlook block",
    `Slaget i dag\n\nFrån: Ryebell <bot@garden.example.net>\nSkickat: den 9 maj 2026 07:00\nTill: Ines\nÄmne: 2 things\n\n${OURS}\n`,
    "Slaget i dag",
  ),
  text(
    "Danish",
    `færdig\n\nDen lør. 9. maj 2026 kl. 07.00 skrev Ryebell <bot@garden.example.net>:\n\n${QUOTE}\n`,
    "færdig",
  ),
  text(
    "Danish Outlook block and phone",
    `Slået\n\nSendt fra min iPhone\n\nFra: Ryebell <bot@garden.example.net>\nSendt: 9. maj 2026 07:00\nTil: Ines <ines@example.org>\nEmne: 2 things\n\n${OURS}\n`,
    "Slået",
  ),
  text(
    "Polish, date first",
    `zrobione\n\nsob., 9 maj 2026 o 07:00 Ryebell <bot@garden.example.net> napisał(a):\n\n${QUOTE}\n`,
    "zrobione",
  ),
  text(
    "Polish phone",
    `jeszcze nie\n\nWysłane z iPhone'a\n\n> Wiadomość napisana przez Ryebell <bot@garden.example.net> w dniu 9 maj 2026, o godz. 07:00:\n> \n${QUOTE}\n`,
    "jeszcze nie",
  ),
  text(
    "Polish desk program and Outlook block",
    `skoszone\n\nOd: Ryebell <bot@garden.example.net>\nWysłano: sobota, 9 maja 2026 07:00\nDo: Ines <ines@example.org>\nTemat: 2 things\n\n${OURS}\n`,
    "skoszone",
  ),
  text("Polish, present tense", `W dniu 09.05.2026 o 07:00, Ryebell pisze:\n${QUOTE}\n\nskoszone\n`, "skoszone"),
  text(
    "Finnish",
    `valmis\n\nla 9. toukok. 2026 klo 7.00 Ryebell (bot@garden.example.net) kirjoitti:\n\n${QUOTE}\n`,
    "valmis",
  ),
  text(
    "Japanese, no verb",
    `済みました\n\n2026年5月9日(土) 7:00 Ryebell <bot@garden.example.net>:\n\n${QUOTE}\n`,
    "済みました",
  ),
  text(
    "a language nobody listed: block of labels with an address and a date",
    `kész 1\n\nFeladó: Ryebell <bot@garden.example.net>\nElküldve: 2026. május 9., szombat 7:00\nCímzett: Ines <ines@example.org>\nTárgy: 2 things\n\n${OURS}\n`,
    "kész 1",
  ),
]

export const CLIENTS: Sample[] = [
  text(
    "attribution over three lines",
    `cut it\n\nOn Saturday, May 9, 2026 at 07:00:12 AM EDT, Ryebell for Long Acre, who keeps\nan eye on the beds of the whole community garden at the old mill\n<bot@garden.example.net> wrote:\n\n${QUOTE}\n`,
    "cut it",
  ),
  text(
    "webmail that does not mark its quote",
    `done 1\n\nSent from Yahoo Mail for iPhone\n\n\nOn Saturday, May 9, 2026, 7:00 AM, Ryebell <bot@garden.example.net> wrote:\n\n${OURS}\n`,
    "done 1",
  ),
  text(
    "desk program, answers between the lines",
    `On 09/05/2026 07:00, Ryebell wrote:\n> Ryebell for Long Acre\n>\n> 1) Cut South bed by Fri 15 May, before seed drops.\n\ndone on Thursday\n\n> 2) Water Kitchen bed, about 5 gal. Reply UP when green.\n\nup, 2 cm\n\n-- \nInes\n`,
    "done on Thursday\n\nup, 2 cm",
  ),
  text(
    "signature above the quote, answer below it",
    `-- \nInes Okafor\nStop & Grow Nursery\n\nOn 09/05/2026 07:00, Ryebell wrote:\n${QUOTE}\n\ndone 2\n`,
    "done 2",
  ),
  text(
    "Outlook for phones",
    `Snooze 1 to Monday\n\nGet Outlook for iOS<https://aka.ms/o0ukef>\n________________________________\nFrom: Ryebell <bot@garden.example.net>\nSent: Saturday, May 9, 2026 7:00:00 AM\nTo: Ines <ines@example.org>\nSubject: 2 things for Long Acre this week\n\n${OURS}\n`,
    "Snooze 1 to Monday",
  ),
  text(
    "block with starred labels",
    `all done\n\n*From:* Ryebell <bot@garden.example.net>\n*Sent:* Saturday, May 9, 2026 7:00 AM\n*To:* Ines <ines@example.org>\n*Subject:* 2 things for Long Acre this week\n\n${OURS}\n`,
    "all done",
  ),
  text(
    "original message, maker's phone",
    `up on kitchen\n\nSent from my Galaxy\n\n-------- Original message --------\nFrom: Ryebell <bot@garden.example.net>\nDate: 5/9/26  7:00 AM  (GMT-05:00)\nTo: Ines <ines@example.org>\nSubject: 2 things\n\n${OURS}\n`,
    "up on kitchen",
  ),
  text(
    "phone signature with excuse after two dashes",
    `patchy\n-- \nSent from my Android device with K-9 Mail. Please excuse my brevity.\n\nOn 9 May 2026 07:00:12 GMT-04:00, Ryebell <bot@garden.example.net> wrote:\n${QUOTE}\n`,
    "patchy",
  ),
  text(
    "signature of a mail service",
    `boot stage on the rye\n\nSent with Proton Mail secure email.\n\nOn Saturday, May 9th, 2026 at 7:00 AM, Ryebell <bot@garden.example.net> wrote:\n\n${QUOTE}\n`,
    "boot stage on the rye",
  ),
  text(
    "date in figures, no verb",
    `ok, thursday\n\n2026-05-09 7:00 GMT-04:00 Ryebell <bot@garden.example.net>:\n\n${QUOTE}\n`,
    "ok, thursday",
  ),
  text(
    "blank before the angle, quote in the quote",
    `not yet\n\n > On 9 May 2026, at 07:00, Ryebell wrote:\n >> done 1\n > Noted, thank you.\n`,
    "not yet",
  ),
  text(
    "forwarded by a phone",
    `from my neighbour:\n\nBegin forwarded message:\n\n> From: Theo <theo@example.org>\n> Subject: beds\n> Date: May 8, 2026 at 8:12:00 PM EDT\n> To: Ines <ines@example.org>\n> \n> cut it tonight\n`,
    "from my neighbour:",
  ),
  text(
    "forwarded by a desk program",
    `see below\n\n\n-------- Forwarded Message --------\nSubject: \tbeds\nDate: \tFri, 8 May 2026 20:12:00 -0400\nFrom: \tTheo <theo@example.org>\nTo: \tInes <ines@example.org>\n\ncut it tonight, done 1\n`,
    "see below",
  ),
  text(
    "forwarded, nothing of one's own",
    `\n---------- Forwarded message ---------\nFrom: Theo <theo@example.org>\nDate: Fri, May 8, 2026 at 8:12 PM\nSubject: beds\nTo: Ines <ines@example.org>\n\ndone 1\n`,
    "",
  ),
  text(
    "quote broken in two by its own program",
    `done 2\n\n> 1) Cut South bed by Fri 15 May, before seed drops. Leave the roots in. Reply\nDONE 1, or SNOOZE 1 SAT.\n> 2) Water Kitchen bed, about 5 gal. Reply UP when green.\n`,
    "done 2",
  ),
  text(
    "attribution on the same line as the words",
    `done 1 On Sat, May 9, 2026 at 7:00 AM Ryebell <bot@garden.example.net> wrote:\n\n${QUOTE}\n`,
    "done 1",
  ),
  text(
    "all on one line, labels inside",
    `done 2\n\nFrom: Ryebell [mailto:bot@garden.example.net] Sent: Saturday, May 9, 2026 7:00 AM To: Ines Subject: 2 things\n\n${OURS}\n`,
    "done 2",
  ),
]

export const WORDS_THAT_ARE_NEW: Sample[] = [
  text(
    "a sentence that begins with On",
    "On Tuesday I cut the north bed.\nOn the whole it went well.\n",
    "On Tuesday I cut the north bed.\nOn the whole it went well.",
  ),
  text(
    "wrote, with no quote behind it",
    "On the stake I wrote: done\nThe rye is 40 in tall\n",
    "On the stake I wrote: done\nThe rye is 40 in tall",
  ),
  text(
    "a colon at the end of a line",
    "Beds today:\nsouth: up\nnorth: not yet\n",
    "Beds today:\nsouth: up\nnorth: not yet",
  ),
  text(
    "sent from a place",
    "Sent from the greenhouse to the plot: two trays of oats\n",
    "Sent from the greenhouse to the plot: two trays of oats",
  ),
  text("a dash list", "- south done\n- kitchen not up\n\n> x\n", "- south done\n- kitchen not up"),
  text(
    "from and to in a note",
    "From: the fence\nthe rye is spreading to the path\n",
    "From: the fence\nthe rye is spreading to the path",
  ),
  text(
    "a line that a mailbox file marked",
    "Vetch first:\n\n>From the south bed I cut about 3 kg\n\nInes\n",
    "Vetch first:\n\nFrom the south bed I cut about 3 kg\n\nInes",
  ),
  text("two dashes inside a line", "rye -- the tall one -- is in boot\n", "rye -- the tall one -- is in boot"),
]

export const HTML: Sample[] = [
  html(
    "webmail, quote container with blockquote and an answer inside it",
    `<div dir="ltr">top words</div><br><div class="gmail_quote"><div dir="ltr" class="gmail_attr">On Sat, May 9, 2026 at 7:00&#8239;AM Ryebell &lt;<a href="mailto:bot@garden.example.net">bot@garden.example.net</a>&gt; wrote:<br></div><blockquote class="gmail_quote" style="margin:0 0 0 .8ex;border-left:1px #ccc solid">${QUOTE_HTML}</blockquote><div>and below</div></div>`,
    "top words\n\nand below",
  ),
  html(
    "signature block of a webmail",
    `<div dir="ltr">up<div><br></div>-- <br><div dir="ltr" class="gmail_signature" data-smartmail="gmail_signature"><div>Ines<br>Done Right Lawn Care</div></div></div>`,
    "up",
  ),
  html(
    "signature block without dashes",
    `<div>bloom on vetch</div><div id="Signature"><p>Ines Okafor</p><p>Cut &amp; Dried Flowers</p></div>`,
    "bloom on vetch",
  ),
  html(
    "Outlook on the web: rule and block",
    `<html><body><div class="elementToProof" style="font-family:Aptos">Cut it today.</div><div id="appendonsend"></div><hr style="display:inline-block;width:98%" tabindex="-1"><div id="divRplyFwdMsg" dir="ltr"><font face="Calibri, sans-serif" style="font-size:11pt" color="#000000"><b>From:</b> Ryebell &lt;bot@garden.example.net&gt;<br><b>Sent:</b> Saturday, May 9, 2026 7:00 AM<br><b>To:</b> Ines &lt;ines@example.org&gt;<br><b>Subject:</b> 2 things</font><div>&nbsp;</div></div><div>${QUOTE_HTML}</div></body></html>`,
    "Cut it today.",
  ),
  html(
    "Outlook in German, block in a box",
    `<html><head><style><!-- p.MsoNormal {margin:0cm} --></style></head><body lang="DE"><div class="WordSection1"><p class="MsoNormal">Roggen gemäht<o:p></o:p></p><p class="MsoNormal"><o:p>&nbsp;</o:p></p><div><div style="border:none;border-top:solid #E1E1E1 1.0pt;padding:3.0pt 0cm 0cm 0cm"><p class="MsoNormal"><b>Von:</b> Ryebell &lt;bot@garden.example.net&gt; <br><b>Gesendet:</b> Samstag, 9. Mai 2026 07:00<br><b>An:</b> Ines<br><b>Betreff:</b> 2 things<o:p></o:p></p></div></div><p class="MsoNormal">1) Cut South bed by Fri 15 May.</p></div></body></html>`,
    "Roggen gemäht",
  ),
  html(
    "phone: cite",
    `<html><head></head><body dir="auto">snooze 1<br><br><div dir="ltr">Sent from my iPhone</div><div dir="ltr"><br><blockquote type="cite">On May 9, 2026, at 7:00 AM, Ryebell &lt;bot@garden.example.net&gt; wrote:<br><br></blockquote></div><blockquote type="cite"><div dir="ltr">${QUOTE_HTML}</div></blockquote></body></html>`,
    "snooze 1",
  ),
  html(
    "webmail without blockquote",
    `<div>done 2<br></div><div class="yahoo_quoted"><div>On Saturday, May 9, 2026, 07:00:00 AM EDT, Ryebell &lt;bot@garden.example.net&gt; wrote:</div><div><br></div><div>${QUOTE_HTML}</div></div>`,
    "done 2",
  ),
  html(
    "desk program: cite prefix, signature",
    `<p>regrowth, a few stems</p><div class="moz-signature">-- <br>Ines</div><div class="moz-cite-prefix">Am 09.05.26 um 07:00 schrieb Ryebell:<br></div><blockquote type="cite" cite="mid:x@y">${QUOTE_HTML}</blockquote>`,
    "regrowth, a few stems",
  ),
  html(
    "indented words are not a quote",
    `<div>two beds:</div><blockquote style="margin: 0 0 0 40px; border: none; padding: 0px;">south done</blockquote>`,
    "two beds:\nsouth done",
  ),
  html(
    "entities, lists and a table",
    `<p>Stand &ldquo;patchy&rdquo; &ndash; &frac12; of it, 5&#176;C, &#x1F331;</p><ul><li>oats up</li><li>peas not</li></ul><table><tr><td>rye</td><td>40 in</td></tr></table>`,
    "Stand “patchy” – ½ of it, 5°C, 🌱\noats up\npeas not\nrye 40 in",
  ),
  html(
    "script, style, hidden text and comments are no words",
    `<style>p{}</style><script>done 1</script><!-- done 2 --><div style="display:none">done 3</div><p>cut today</p>`,
    "cut today",
  ),
  html(
    "unclosed tags and stray angles",
    `<div><p>height < 40 in & rising<br>done 1<div><b>yes`,
    "height < 40 in & rising\ndone 1\nyes",
  ),
  {
    name: "plain part is blank, words only in HTML",
    eml: eml(
      multi("alternative", [
        part("text/plain; charset=utf-8", "\n \n"),
        part("text/html; charset=utf-8", "<p>done 1</p>"),
      ]),
    ),
    reply: "done 1",
  },
  {
    name: "HTML inside related inside alternative, no plain part",
    eml: eml(
      multi("alternative", [
        nest(
          "related",
          [
            part("text/html; charset=utf-8", `<p>bloom</p><img src="cid:p1">`),
            picture("image/jpeg", "IMG_1.jpg", ["Content-ID: <p1>"], "inline"),
          ],
          "=_inner",
        ),
      ]),
    ),
    reply: "bloom",
    photos: 1,
  },
]

export const PHOTOS: Sample[] = [
  {
    name: "logo in a signature block, photo in the words",
    eml: eml(
      multi("related", [
        part(
          "text/html; charset=utf-8",
          `<div>is this boot?<br><img src="cid:photo@x" width="600"></div><div class="gmail_signature">Ines<br><img src="cid:logo@x"></div>`,
        ),
        picture("image/jpeg", "IMG_2.jpg", ["Content-ID: <photo@x>"], "inline"),
        picture("image/png", "image001.png", ["Content-ID: <logo@x>"], "inline"),
      ]),
    ),
    reply: "is this boot?",
    photos: 1,
  },
  {
    name: "our own picture comes back in the quote",
    eml: eml(
      multi("related", [
        part(
          "text/html; charset=utf-8",
          `<div>thanks, done 1</div><blockquote type="cite"><p>Ryebell</p><img src="cid:season"></blockquote>`,
        ),
        picture("image/png", "season.png", ["Content-ID: <season>"], "inline"),
      ]),
    ),
    reply: "thanks, done 1",
    photos: 0,
  },
  {
    name: "photos of unnamed type, capitals, and a PDF",
    eml: eml(
      multi("mixed", [
        part("text/plain; charset=utf-8", "two pictures"),
        picture("application/octet-stream", "IMG_0007.JPG"),
        picture("IMAGE/HEIF", "x.heif"),
        picture("application/pdf", "soil-test.pdf"),
      ]),
    ),
    reply: "two pictures",
    photos: 2,
  },
  {
    name: "photo alone",
    eml: eml(
      picture("image/jpeg", "a.jpg").split("\n\n").length > 1
        ? multi("mixed", [picture("image/jpeg", "a.jpg")])
        : { body: "" },
    ),
    reply: "",
    photos: 1,
  },
  {
    name: "names of pictures in the plain part are not words",
    eml: eml(
      multi("mixed", [
        part("text/plain; charset=utf-8", "here:\n<IMG_0412.jpeg>\n[image: IMG_0413.jpeg]\n\nSent from my iPad\n"),
        picture("image/jpeg", "IMG_0412.jpeg", [], "inline"),
        picture("image/jpeg", "IMG_0413.jpeg"),
      ]),
    ),
    reply: "here:",
    photos: 2,
  },
  {
    name: "picture of a forwarded mail is not a photo of ours",
    eml: eml(
      multi("mixed", [
        part("text/plain; charset=utf-8", "see Theo's mail"),
        part(
          "message/rfc822",
          `From: Theo <theo@example.org>\nSubject: x\n${[`Content-Type: multipart/mixed; boundary="inner"`, "", "--inner", "Content-Type: text/plain", "", "done 1", "--inner", picture("image/jpeg", "t.jpg"), "--inner--"].join("\n")}`,
        ),
      ]),
    ),
    reply: "see Theo's mail",
    photos: 0,
  },
  {
    name: "text in attached files is not read",
    eml: eml(
      multi("mixed", [
        part("text/plain; charset=utf-8", "notes attached"),
        part('text/plain; charset=utf-8; name="notes.txt"', "done 1\ncut north", [
          'Content-Disposition: attachment; filename="notes.txt"',
        ]),
      ]),
    ),
    reply: "notes attached",
  },
]

export const LETTERS: Sample[] = [
  {
    name: "windows-1252",
    eml: eml({
      type: "text/plain; charset=windows-1252",
      letters: "latin1",
      body: "coup\u00e9 \u0096 la moiti\u00e9, \u0093fini\u0094\n",
    }),
    reply: "coupé – la moitié, “fini”",
  },
  {
    name: "UTF-8 called latin-1",
    eml: eml({ type: "text/plain; charset=iso-8859-1", body: "señal Á buena ½\n" }),
    reply: "señal Á buena ½",
  },
  {
    name: "latin-1 called UTF-8",
    eml: eml({ type: "text/plain; charset=utf-8", letters: "latin1", body: "gem\u00e4ht, 5\u00b0\n" }),
    reply: "gemäht, 5°",
  },
  { name: "no charset, UTF-8 bytes", eml: eml({ type: "text/plain", body: "färdig 🌾\n" }), reply: "färdig 🌾" },
  {
    name: "latin-2",
    eml: eml({ type: "text/plain; charset=iso-8859-2", encoding: "quoted-printable", body: "=B3=F3=BFko go=B3e\n" }),
    reply: "łóżko gołe",
  },
  {
    name: "unknown charset",
    eml: eml({ type: "text/plain; charset=x-nobody-knows", body: "done 1, ½\n" }),
    reply: "done 1, ½",
  },
  {
    name: "quoted-printable with soft breaks and lower case",
    eml: eml({ encoding: "Quoted-Printable", body: "the rye is=20\nabout forty inche=\ns, na=c3=afve =3D fine\n" }),
    reply: "the rye is\nabout forty inches, naïve = fine",
  },
  {
    name: "broken quoted-printable",
    eml: eml({ encoding: "quoted-printable", body: "50=% up =ZZ done=\n" }),
    reply: "50=% up =ZZ done",
  },
  {
    name: "base64 with a plain line that a list added",
    eml: eml({ encoding: "base64", body: `${Buffer.from("done 1\n").toString("base64")}\n` }),
    reply: "done 1",
  },
  {
    name: "flowed with deleted blanks and stuffing",
    eml: eml({
      type: "text/plain; charset=utf-8; format=flowed; delsp=yes",
      body: "the stand is patc \nhy here\n From the path it looks fine\n>> old \n> newer\n",
    }),
    reply: "the stand is patchy here\nFrom the path it looks fine",
  },
  {
    name: "flowed quote with a blank at its end does not swallow the answer",
    eml: eml({
      type: "text/plain; charset=utf-8; format=flowed",
      body: "> 2) Water Kitchen bed, \nwatered\n\n-- \nInes\n",
    }),
    reply: "watered",
  },
  {
    name: "no-break blanks, zero-width letters, byte order mark",
    eml: eml({ body: "\ufeffdone\u00a01\u200b\n" }),
    reply: "done 1",
  },
]

export const MACHINES: Sample[] = [
  {
    name: "holiday answer by a header of its own",
    eml: eml({ head: [...HEAD, "X-Autorespond: vacation"], body: "Away until Monday\n" }),
    reply: "Away until Monday",
    auto: true,
  },
  {
    name: "precedence auto_reply",
    eml: eml({ head: [...HEAD, "Precedence: auto_reply"], body: "Away\n" }),
    reply: "Away",
    auto: true,
  },
  {
    name: "auto-submitted: no is a person",
    eml: eml({ head: [...HEAD, "Auto-Submitted: no"], body: "done 1\n" }),
    reply: "done 1",
  },
  {
    name: "auto-generated in capitals, folded",
    eml: eml({ head: [...HEAD, "AUTO-SUBMITTED:\n  Auto-Generated (rejected)"], body: "x\n" }),
    reply: "x",
    auto: true,
  },
  {
    name: "mailing list",
    eml: eml({ head: [...HEAD, "List-Id: Plots <plots.example.org>"], body: "done 1\n" }),
    reply: "done 1",
    auto: true,
  },
  {
    name: "holiday answer with an empty sender is no bounce",
    eml: eml({ head: ["Return-Path: <>", ...HEAD, "Auto-Submitted: auto-replied (vacation)"], body: "Away\n" }),
    reply: "Away",
    auto: true,
  },
  {
    name: "holiday answer known by its subject only",
    eml: eml({
      head: HEAD.map((line) =>
        line.startsWith("Subject") ? "Subject: =?utf-8?Q?Abwesenheitsnotiz=3A_2_things?=" : line,
      ),
      body: "Bin weg\n",
    }),
    reply: "Bin weg",
    auto: true,
  },
  {
    name: "delay report",
    eml: eml({
      head: [
        "From: postmaster@mx.example.org",
        "To: bot@garden.example.net",
        "Subject: Delayed: 2 things",
        "MIME-Version: 1.0",
      ],
      ...multi("report; report-type=delivery-status", [
        part("text/plain", "Delayed, will try again."),
        part(
          "message/delivery-status",
          "Reporting-MTA: dns; mx.example.org\n\nFinal-Recipient: rfc822; ines@example.org\nAction: delayed\nStatus: 4.4.1",
        ),
        part("text/rfc822-headers", "Message-ID: <w19.ines@garden.example.net>\nSubject: 2 things"),
      ]),
    }),
    reply: "",
    bounce: true,
    auto: true,
  },
  {
    name: "report without its report-type",
    eml: eml({
      head: [
        "From: MAILER-DAEMON@mx.example.org",
        "To: bot@garden.example.net",
        "Subject: failure notice",
        "MIME-Version: 1.0",
      ],
      ...multi("report", [
        part("text/plain", "No such user"),
        part(
          "message/delivery-status",
          "Reporting-MTA: dns; mx.example.org\n\nFinal-Recipient: rfc822; ines@example.org\nAction: failed\nStatus: 5.1.1",
        ),
      ]),
    }),
    reply: "",
    bounce: true,
    auto: true,
  },
  {
    name: "old program's bounce, no empty sender",
    eml: eml({
      head: [
        "From: MAILER-DAEMON@mail.example.org (Mail Delivery Subsystem)",
        "To: bot@garden.example.net",
        "Subject: Returned mail: see below for details",
      ],
      body: "The following addresses had permanent fatal errors\n<ines@example.org>\n\n550 5.1.1 User unknown\n\ndone 1\n",
    }),
    reply: "",
    bounce: true,
    auto: true,
  },
  {
    name: "bounce told by a header",
    eml: eml({
      head: [
        "From: Mail System <noreply@mail.example.org>",
        "X-Failed-Recipients: ines@example.org",
        "Auto-Submitted: auto-replied",
        "Subject: Mail delivery failed: returning message to sender",
      ],
      body: "A message that you sent could not be delivered\n",
    }),
    reply: "",
    bounce: true,
    auto: true,
  },
  {
    name: "receipt without a plain part",
    eml: eml({
      ...multi('report; report-type="disposition-notification"', [
        part("text/html", "<p>read</p>"),
        part(
          "message/disposition-notification",
          "Final-Recipient: rfc822;ines@example.org\nDisposition: automatic-action/MDN-sent-automatically; displayed",
        ),
      ]),
    }),
    reply: "",
    auto: true,
  },
]

export const BROKEN: Sample[] = [
  { name: "nothing at all", eml: Buffer.alloc(0), reply: "" },
  { name: "headers and no body", eml: Buffer.from("From: a@example.org\nSubject: x\n"), reply: "" },
  {
    name: "bare line ends, mailbox line on top",
    eml: Buffer.from(
      "From ines@example.org Sat May  9 09:12:44 2026\nFrom: ines@example.org\nTo: bot@garden.example.net\n\ndone 1\n",
    ),
    reply: "done 1",
  },
  {
    name: "returns only as line ends",
    eml: Buffer.from("From: ines@example.org\rTo: bot@garden.example.net\r\rdone 1\r\r> old\r"),
    reply: "done 1",
  },
  {
    name: "boundary never closed",
    eml: eml({
      type: 'multipart/mixed; boundary="x"',
      body: `--x\nContent-Type: text/plain; charset=utf-8\n\nup\n--x\n${picture("image/jpeg", "a.jpg")}\n`,
    }),
    reply: "up",
    photos: 1,
  },
  {
    name: "boundary not named",
    eml: eml({ type: "multipart/mixed", body: "--zz\nContent-Type: text/plain\n\ndone 1\n--zz--\n" }),
    reply: "done 1",
  },
  {
    name: "boundary that never comes",
    eml: eml({ type: 'multipart/mixed; boundary="nope"', body: "done 1\n\n> old\n" }),
    reply: "done 1",
  },
  {
    name: "parts without headers",
    eml: eml({ type: "multipart/mixed; boundary=x", body: "ignore me\n--x\n\ndone 1\n--x--\nignore me too\n" }),
    reply: "done 1",
  },
  { name: "content type is rubbish", eml: eml({ type: ';;; /= "', body: "done 1\n" }), reply: "done 1" },
  {
    name: "HTML that calls itself plain",
    eml: eml({ body: `<html><body><p>done 1</p><blockquote type="cite">old</blockquote></body></html>` }),
    reply: "done 1",
  },
  {
    name: "plain that calls itself HTML",
    eml: eml({ type: "text/html; charset=utf-8", body: "done 1\n\n> old words\n" }),
    reply: "done 1",
  },
  {
    name: "signed mail",
    eml: eml(
      multi('signed; protocol="application/pkcs7-signature"', [
        part("text/plain; charset=utf-8", "up on south"),
        part('application/pkcs7-signature; name="smime.p7s"', "MIAG", [
          "Content-Transfer-Encoding: base64",
          'Content-Disposition: attachment; filename="smime.p7s"',
        ]),
      ]),
    ),
    reply: "up on south",
  },
  {
    name: "reaction of a webmail",
    eml: eml(
      multi("alternative", [
        part("text/plain; charset=utf-8", "👍\n\nInes reacted via Gmail"),
        part("text/vnd.google.email-reaction+json; charset=utf-8", '{"emoji":"👍","version":1}'),
        part("text/html; charset=utf-8", "<p>👍</p><p>Ines reacted via Gmail</p>"),
      ]),
    ),
    reply: "👍",
  },
]

const withHead = (name: string, value: string, more: string[] = []) => [
  ...more,
  ...HEAD.filter((line) => !line.startsWith(`${name}:`)),
  `${name}: ${value}`,
]

/** A second set, written after the first was read rightly and before this one was tried. */
export const SECOND: Sample[] = [
  text(
    "address broken over two lines",
    `done 2\n\nOn Sat, May 9, 2026 at 7:00 AM Ryebell for Long Acre <\nbot@garden.example.net> wrote:\n\n${QUOTE}\n`,
    "done 2",
  ),
  text(
    "comma before the address",
    `up\n\nOn Sat, 9 May 2026, 07:00 Ryebell, <bot@garden.example.net> wrote:\n\n${QUOTE}\n`,
    "up",
  ),
  text(
    "text program with a star",
    `* Ryebell <bot@garden.example.net> [2026-05-09 07:00]:\n${QUOTE}\n\nboot on the rye\n`,
    "boot on the rye",
  ),
  text("writes, no date", `Ryebell <bot@garden.example.net> writes:\n\n${QUOTE}\n\ndone 1\n`, "done 1"),
  text(
    "dashes around the attribution",
    `done 1\n\n\n\n---- On Sat, 09 May 2026 07:00:00 -0400 Ryebell <bot@garden.example.net> wrote ----\n\n${OURS}\n`,
    "done 1",
  ),
  text("signature of a phone on the next line", `done 1\nSent from my iPhone\n`, "done 1"),
  text(
    "nothing but a phone's signature",
    `\n\nSent from my iPhone\n\n> On May 9, 2026, at 7:00 AM, Ryebell <bot@garden.example.net> wrote:\n> \n${QUOTE}\n`,
    "",
  ),
  text("greater than, inside a line", `rye > 40 in, oats < 10 in\n`, `rye > 40 in, oats < 10 in`),
  text(
    "attribution at the end, quote cut away",
    `not yet\n\nOn Sat, May 9, 2026 at 7:00 AM Ryebell <bot@garden.example.net> wrote:\n`,
    "not yet",
  ),
  text(
    "French sentence that wrote something",
    `Le 9 mai 2026 j'ai écrit sur l'étiquette :\nfauché\n`,
    `Le 9 mai 2026 j'ai écrit sur l'étiquette :\nfauché`,
  ),
  text(
    "English sentence that wrote something",
    `On May 9, 2026 I wrote:\ncut at 6 in\n`,
    `On May 9, 2026 I wrote:\ncut at 6 in`,
  ),
  text(
    "German sentence that wrote something",
    `Am 9. Mai 2026 schrieb ich aufs Schild:\ngemäht\n`,
    `Am 9. Mai 2026 schrieb ich aufs Schild:\ngemäht`,
  ),
  text(
    "a list of beds with dates",
    `South: cut 9 May 2026\nNorth: not yet\nKitchen: up on 5 May 2026\n`,
    `South: cut 9 May 2026\nNorth: not yet\nKitchen: up on 5 May 2026`,
  ),
  text(
    "German webmail app, quote unmarked",
    `fertig mit 2\n\nGesendet von Yahoo Mail auf Android\n\n  Am Sa., Mai 9, 2026 at 7:00 schrieb Ryebell<bot@garden.example.net>:   ${OURS}\n`,
    "fertig mit 2",
  ),
  text(
    "German app signature above the attribution",
    `läuft\n-- \nDiese Nachricht wurde von meinem Android Mobiltelefon mit GMX Mail gesendet.\nAm 09.05.26, 07:00, Ryebell <bot@garden.example.net> schrieb:\n\n${QUOTE}\n`,
    "läuft",
  ),
  text(
    "maker's tablet in German",
    `läuft auf\n\nVon meinem Samsung Galaxy Smartphone gesendet.\n\n\n-------- Ursprüngliche Nachricht --------\nVon: Ryebell <bot@garden.example.net>\nDatum: 09.05.26 07:00 (GMT+01:00)\nAn: Ines <ines@example.org>\nBetreff: 2 things\n\n${OURS}\n`,
    "läuft auf",
  ),
  text("maker's tablet, word order", `läuft auf\n\nVon Samsung-Tablet gesendet\n`, "läuft auf"),
  text(
    "Outlook for phones in Spanish",
    `hecho 1\n\nObtenga Outlook para Android<https://aka.ms/AAb9ysg>\n________________________________\nDe: Ryebell <bot@garden.example.net>\nEnviado: Saturday, May 9, 2026 7:00:00 AM\nPara: Ines <ines@example.org>\nAsunto: 2 things\n\n${OURS}\n`,
    "hecho 1",
  ),
  text("French maker's device", `levé\n\nEnvoyé depuis mon appareil Galaxy\n`, "levé"),
  text("Italian maker's device", `su\n\nInviato dal mio dispositivo Samsung\n`, "su"),
  text("Polish maker's device", `wzeszło\n\nWysłano z urządzenia Galaxy\n`, "wzeszło"),
  text("Swedish Outlook", `klart\n\nHämta Outlook för iOS<https://aka.ms/o0ukef>\n`, "klart"),
  text(
    "phone signature with an excuse",
    `patchy on north\n\nSent from my mobile, please excuse typos\n`,
    "patchy on north",
  ),
  text(
    "words behind a phone's signature stay",
    `done 1\n\nSent from my iPhone\n\nPS kitchen is up too\n`,
    "done 1\n\nPS kitchen is up too",
  ),
  text(
    "Dutch forwarded",
    `kijk\n\n---------- Forwarded message ---------\nVan: Theo <theo@example.org>\nDate: vr 8 mei 2026 om 20:12\nSubject: Re: beds\nTo: Ines <ines@example.org>\n\n\ngemaaid\n`,
    "kijk",
  ),
  text(
    "German desk program, forwarded",
    `siehe unten\n\n\n\n-------- Weitergeleitete Nachricht --------\nBetreff: \tbeds\nDatum: \tFri, 8 May 2026 20:12:00 +0200\nVon: \tTheo <theo@example.org>\nAn: \tInes <ines@example.org>\n\n\ngemäht\n`,
    "siehe unten",
  ),
  text(
    "block without addresses, wrapped recipients",
    `skipping 2\n\nFrom: Ryebell\nSent: Saturday, May 9, 2026 7:00 AM\nTo: Ines Okafor-Lindqvist; Theo Somebody With A Long Name; The Whole\n Committee\nSubject: 2 things for Long Acre this week\n\n${OURS}\n`,
    "skipping 2",
  ),
  text(
    "block in the quote, answer at the bottom",
    `> From: Ryebell <bot@garden.example.net>\n> Sent: Saturday\n> To: Ines\n> Subject: x\n>\n${QUOTE}\n\nresow done\n`,
    "resow done",
  ),
  text(
    "Portuguese phone",
    `feito\n\nEnviado do meu iPhone\n\n> Em 9 de mai. de 2026, à(s) 07:00, Ryebell <bot@garden.example.net> escreveu:\n> \n${QUOTE}\n`,
    "feito",
  ),
  text(
    "Danish phone",
    `slået\n\n> Den 9. maj 2026 kl. 07.00 skrev Ryebell <bot@garden.example.net>:\n> \n${QUOTE}\n`,
    "slået",
  ),
  text(
    "Norwegian",
    `slått\n\nlør. 9. mai 2026 kl. 07:00 skrev Ryebell <bot@garden.example.net>:\n\n${QUOTE}\n`,
    "slått",
  ),
  text("Russian", `готово\n\nсб, 9 мая 2026 г. в 07:00, Ryebell <bot@garden.example.net>:\n\n${QUOTE}\n`, "готово"),
  text("Chinese", `好了\n\nRyebell <bot@garden.example.net> 于2026年5月9日周六 07:00写道：\n\n${QUOTE}\n`, "好了"),
  text("Czech desk program", `hotovo\n\nDne 09. 05. 26 v 7:00 Ryebell napsal(a):\n${QUOTE}\n`, "hotovo"),
  text(
    "two quotes, two answers, a signature in each",
    `> 1) Cut South bed\nyes\n-- \nInes\n\n> 2) Water Kitchen bed\nno\n-- \nInes\n`,
    "yes\n\nno",
  ),
  html(
    "webmail of a phone",
    `<div dir="auto">done 1<div dir="auto"><br></div><div data-smartmail="gmail_signature" dir="auto" class="gmail_signature">Sent from the garden<br>Cut above the rest</div></div><br><div class="gmail_quote"><div dir="ltr" class="gmail_attr">On Sat, May 9, 2026, 7:00 AM Ryebell &lt;<a href="mailto:bot@garden.example.net">bot@garden.example.net</a>&gt; wrote:<br></div><blockquote class="gmail_quote">${QUOTE_HTML}</blockquote></div>`,
    "done 1",
  ),
  html(
    "webmail with a bar at its left and labels",
    `<html><head></head><body><div style="font-family: Verdana;"><div>bl&uuml;ht</div><div>&nbsp;<div name="quote" style="margin:10px 5px 5px 10px; padding: 10px 0 10px 10px; border-left:2px solid #C3D9E5;"><div style="margin:0 0 10px 0;"><b>Gesendet:</b>&nbsp;Samstag, 09. Mai 2026 um 07:00 Uhr<br/><b>Von:</b>&nbsp;&quot;Ryebell&quot; &lt;bot@garden.example.net&gt;<br/><b>An:</b>&nbsp;ines@example.org<br/><b>Betreff:</b>&nbsp;2 things</div><div name="quoted-content">${QUOTE_HTML}</div></div></div></div></body></html>`,
    "blüht",
  ),
  html(
    "Outlook in a language nobody listed",
    `<div class="WordSection1"><p>kész</p><div style="border:none;border-top:solid #E1E1E1 1.0pt"><p><b>Feladó:</b> Ryebell &lt;bot@garden.example.net&gt;<br><b>Elküldve:</b> 2026. május 9., szombat 7:00<br><b>Címzett:</b> Ines<br><b>Tárgy:</b> 2 things</p></div>${QUOTE_HTML}</div>`,
    "kész",
  ),
  html(
    "webmail attribution in a language nobody listed",
    `<div dir="ltr">тайёр</div><div class="gmail_quote"><div class="gmail_attr">9-may, 2026-yil, shan 07:00 da Ryebell shunday deb yozdi:<br></div><blockquote class="gmail_quote">${QUOTE_HTML}</blockquote></div>`,
    "тайёр",
  ),
  html(
    "preformatted words",
    `<pre>south: up\n  north: not\n\n&gt; 1) Cut South bed by Fri 15 May, before seed drops.\n</pre>`,
    "south: up\nnorth: not",
  ),
  html("emoji as a picture", `<div><img class="emoji" alt="👍" src="https://example.org/1f44d.png"></div>`, "👍"),
  html(
    "signature mark with a no-break blank",
    `<div>up</div><div>--&nbsp;<br>Ines<br>Water &amp; Seed Ltd</div>`,
    "up",
  ),
  html(
    "cut marks of a privacy webmail",
    `<div style="font-family: Arial;">bloom</div><div class="protonmail_signature_block"><div class="protonmail_signature_block-proton">Sent with <a>Proton Mail</a> secure email.</div></div><div class="protonmail_quote">On Saturday, May 9th, 2026 at 7:00 AM, Ryebell &lt;bot@garden.example.net&gt; wrote:<br><blockquote class="protonmail_quote" type="cite">${QUOTE_HTML}</blockquote></div>`,
    "bloom",
  ),
  {
    name: "plain part without marks, answer below; HTML tells them apart",
    eml: eml(
      multi("alternative", [
        part(
          "text/plain; charset=utf-8",
          `On Sat, May 9, 2026 at 7:00 AM Ryebell <bot@garden.example.net> wrote:\n\n${OURS}\n\nboth done`,
        ),
        part(
          "text/html; charset=utf-8",
          `<div>On Sat, May 9, 2026 at 7:00 AM Ryebell &lt;bot@garden.example.net&gt; wrote:</div><blockquote type="cite">${QUOTE_HTML}</blockquote><div>both done</div>`,
        ),
      ]),
    ),
    reply: "both done",
  },
  {
    name: "phone: words, photo, words, all inline",
    eml: eml(
      multi("mixed", [
        part("text/plain; charset=us-ascii", "this one\n"),
        picture("image/jpeg", "IMG_1.jpeg", ["X-Apple-Content-Length: 1"], "inline"),
        part("text/plain; charset=us-ascii", "\nand this\n"),
        picture("image/jpeg", "IMG_2.jpeg", [], "inline"),
        part("text/plain; charset=us-ascii", "\n\nSent from my iPhone\n"),
      ]),
    ),
    reply: "this one\n\nand this",
    photos: 2,
  },
  {
    name: "alternative in related with a logo shown in the signature only in HTML",
    eml: eml(
      multi("related", [
        nest(
          "alternative",
          [
            part("text/plain; charset=utf-8", "seed drop on vetch\n\n[cid:image001.png@01DA]\nInes"),
            part(
              "text/html; charset=utf-8",
              `<p>seed drop on vetch</p><div id="Signature"><img width="120" src="cid:image001.png@01DA"><p>Ines</p></div>`,
            ),
          ],
          "=_alt",
        ),
        picture("image/png", "image001.png", ["Content-ID: <image001.png@01DA>"], "inline"),
      ]),
    ),
    reply: "seed drop on vetch\n\nInes",
  },
  {
    name: "tracking pixel and icon are no photos",
    eml: eml(
      multi("related", [
        part(
          "text/html",
          `<p>up</p><img src="https://example.org/p.gif" width="1" height="1"><img src="cid:i" width="16" height="16">`,
        ),
        picture("image/png", "x.png", ["Content-ID: <i>"], "inline"),
      ]),
    ),
    reply: "up",
  },
  {
    name: "picture of two names in one old-style double part",
    eml: eml(
      multi("mixed", [
        part("text/plain", "bed today"),
        nest(
          "appledouble",
          [
            part('application/applefile; name="a.jpg"', "AAUWBw==", ["Content-Transfer-Encoding: base64"]),
            picture("image/jpeg", "a.jpg"),
          ],
          "dbl",
        ),
      ]),
    ),
    reply: "bed today",
    photos: 1,
  },
  {
    name: "name of a photo in encoded pieces",
    eml: eml(
      multi("mixed", [
        part("text/plain", "x"),
        [
          "Content-Type: application/octet-stream;",
          " name*0*=utf-8''b%C3%A4;",
          " name*1*=d.jpg",
          "Content-Transfer-Encoding: base64",
          "Content-Disposition: attachment",
          "",
          JPEG,
        ].join("\n"),
      ]),
    ),
    reply: "x",
    photos: 1,
  },
  {
    name: "Cyrillic in KOI8-R",
    eml: eml({
      type: "text/plain; charset=koi8-r",
      encoding: "base64",
      body: Buffer.from([0xd3, 0xcb, 0xcf, 0xdb, 0xc5, 0xce, 0xcf]).toString("base64"),
    }),
    reply: "скошено",
  },
  {
    name: "Japanese in ISO-2022-JP",
    eml: eml({
      type: "text/plain; charset=iso-2022-jp",
      encoding: "base64",
      body: Buffer.from("1b24423a511b2842", "hex").toString("base64"),
    }),
    reply: "済",
    photos: 0,
  },
  {
    name: "euro sign in latin-9",
    eml: eml({ type: "text/plain; charset=ISO-8859-15", encoding: "quoted-printable", body: "seed 5 =A4" }),
    reply: "seed 5 €",
  },
  {
    name: "UTF-16 with its mark",
    eml: eml({
      type: "text/plain; charset=utf-16",
      encoding: "base64",
      body: Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from("up ½", "utf16le")]).toString("base64"),
    }),
    reply: "up ½",
  },
  {
    name: "parameter without its semicolon",
    eml: eml({ type: 'text/plain; charset="utf-8"\n\tformat=flowed', body: "färdig\n" }),
    reply: "färdig",
  },
  {
    name: "answer to an invitation, no words",
    eml: eml({
      head: withHead("Subject", "Accepted: water Kitchen bed"),
      type: "text/calendar; charset=utf-8; method=REPLY",
      body: "BEGIN:VCALENDAR\nMETHOD:REPLY\nEND:VCALENDAR",
    }),
    reply: "",
  },
  {
    name: "precedence of a person",
    eml: eml({ head: withHead("Precedence", "first-class"), body: "done 1\n" }),
    reply: "done 1",
  },
  {
    name: "auto-submitted: no, with a comment",
    eml: eml({ head: withHead("Auto-Submitted", "No (a person)"), body: "done 1\n" }),
    reply: "done 1",
  },
  {
    name: "auto-notified",
    eml: eml({ head: withHead("Auto-Submitted", 'auto-notified; owner-email="x@example.org"'), body: "changed\n" }),
    reply: "changed",
    auto: true,
  },
  {
    name: "a person answers a holiday answer",
    eml: eml({ head: withHead("Subject", "Re: Automatic reply: Cut South bed"), body: "I am back, done 1\n" }),
    reply: "I am back, done 1",
  },
  {
    name: "bounce of a large mail service",
    eml: eml({
      head: [
        "Return-Path: <>",
        "From: Mail Delivery Subsystem <mailer-daemon@example.com>",
        "To: bot@garden.example.net",
        "Auto-Submitted: auto-replied",
        "Subject: Delivery Status Notification (Failure)",
        "References: <w19.ines@garden.example.net>",
        "X-Failed-Recipients: ines@example.org",
        "MIME-Version: 1.0",
      ],
      ...multi("report; report-type=delivery-status", [
        nest(
          "related",
          [
            nest(
              "alternative",
              [
                part(
                  "text/plain; charset=utf-8",
                  "** Address not found **\n\nYour message wasn't delivered to ines@example.org",
                ),
                part("text/html; charset=utf-8", "<b>Address not found</b>"),
              ],
              "alt",
            ),
            picture("image/png", "icon.png", ["Content-ID: <icon.png>"], "inline"),
          ],
          "rel",
        ),
        part(
          "message/delivery-status",
          "Reporting-MTA: dns; example.com\n\nFinal-Recipient: rfc822; ines@example.org\nAction: failed\nStatus: 5.1.1",
        ),
        part("message/rfc822", "Message-ID: <w19.ines@garden.example.net>\nSubject: x\n\ndone 1"),
      ]),
    }),
    reply: "",
    bounce: true,
    auto: true,
  },
  {
    name: "bounce of an office server",
    eml: eml({
      head: [
        "Return-Path: <>",
        "From: Microsoft Outlook <postmaster@office.example.org>",
        "To: bot@garden.example.net",
        "Subject: Undeliverable: 2 things",
        "MIME-Version: 1.0",
      ],
      ...multi("report; report-type=delivery-status", [
        nest(
          "alternative",
          [part("text/plain", "Delivery has failed"), part("text/html", "<p>Delivery has failed</p>")],
          "alt",
        ),
        part(
          "message/delivery-status",
          "Reporting-MTA: dns;office.example.org\n\nFinal-Recipient: rfc822;ines@office.example.org\nAction: failed\nStatus: 5.2.2",
        ),
      ]),
    }),
    reply: "",
    bounce: true,
    auto: true,
  },
  {
    name: "bounce in plain words from an old queue",
    eml: eml({
      head: [
        "From: MAILER-DAEMON@mx.example.org",
        "To: bot@garden.example.net",
        "Subject: failure notice",
        "Date: 9 May 2026 13:00:00 -0000",
      ],
      body: "Hi. This is the mail program at mx.example.org.\nI'm afraid I wasn't able to deliver your message to the following addresses.\n\n<ines@example.org>:\nSorry, no mailbox here by that name. (#5.1.1)\n\n--- Below this line is a copy of the message.\n\ndone 1\n",
    }),
    reply: "",
    bounce: true,
    auto: true,
  },
  {
    name: "report of abuse by a feedback loop",
    eml: eml({
      head: ["From: fbl@example.com", "To: bot@garden.example.net", "Subject: complaint", "MIME-Version: 1.0"],
      ...multi("report; report-type=feedback-report", [
        part("text/plain", "This is an abuse report"),
        part("message/feedback-report", "Feedback-Type: abuse\nVersion: 1"),
      ]),
    }),
    reply: "",
    auto: true,
  },
]

/** A third set, of what people's programs get wrong, written before it was tried. */
export const THIRD: Sample[] = [
  text(
    "quote broken again at a narrow width",
    `not yet\n\n> 1) Cut South bed by Fri 15 May, before seed drops. Leave the\nroots in. Reply DONE 1, or SNOOZE 1 SAT.\n> 2) Water Kitchen bed, about 5 gal. Reply UP when green.\n`,
    "not yet",
  ),
  text(
    "a short answer right below a quoted line without a stop",
    `> Ryebell for Long Acre\ndone 1\n> 2) Water Kitchen bed, about 5 gal\nup\n`,
    "done 1\nup",
  ),
  text(
    "an answer below a quoted line that ends in a number",
    `> 1) South bed: best cut 8-14 May, Reply DONE 1\nyes did it\n> 2) Kitchen\n`,
    "yes did it",
  ),
  text(
    "our words come back with no mark at all",
    `on it\n\nWater Kitchen bed, about 5 gal. Reply UP when green.\n`,
    "on it",
  ),
  text("three dashes between words and name", `bloom today\n---\nInes\n`, "bloom today\nInes"),
  text("blank before the signature mark", `boot\n --\nInes\nReady to Plant Inc.\n`, "boot"),
  text(
    "attribution glued below the words",
    `done 1\nOn Sat, May 9, 2026 at 7:00 AM Ryebell <bot@garden.example.net> wrote:\n${QUOTE}\n`,
    "done 1",
  ),
  text(
    "verb on a line of its own",
    `done 2\n\nOn Sat, May 9, 2026 at 7:00 AM Ryebell for Long Acre <bot@garden.example.net>\nwrote:\n\n${QUOTE}\n`,
    "done 2",
  ),
  text(
    "answer above and below",
    `yes\n\nOn Sat, May 9, 2026 at 7:00 AM Ryebell <bot@garden.example.net> wrote:\n${QUOTE}\n\nand kitchen is up\n\nSent from my iPad\n`,
    "yes\n\nand kitchen is up",
  ),
  text(
    "quote in the quote, both with introductions",
    `skip 2\n\nOn Sat, May 9, 2026 at 7:00 AM Ryebell <bot@garden.example.net> wrote:\n> Noted.\n>\n> On Fri, May 8, 2026 at 8:00 PM Ines <ines@example.org> wrote:\n>> done 1\n>>\n>> On Fri, May 8, 2026 at 7:00 AM Ryebell <bot@garden.example.net> wrote:\n>>> 1) Cut South bed.\n`,
    "skip 2",
  ),
  text("one-line answer in capitals with a stop", `DONE.\n`, "DONE."),
  text(
    "link in the words",
    `see https://example.org/photo?x=1:\nit is up\n`,
    "see https://example.org/photo?x=1:\nit is up",
  ),
  text(
    "time and a colon in the words",
    `at 7:30 today:\ncut south, 2026-05-09\n`,
    "at 7:30 today:\ncut south, 2026-05-09",
  ),
  text("only blanks and a quote", `   \n\n${QUOTE}\n`, ""),
  text("tabs before the angle", `yes\n\n\t> not ours\n`, "yes"),
  text(
    "Swiss webmail",
    `erledigt\n\n\n----Ursprüngliche Nachricht----\nVon : bot@garden.example.net\nDatum : 09/05/2026 - 07:00 (MS)\nAn : ines@example.org\nBetreff : 2 things\n\n${OURS}\n`,
    "erledigt",
  ),
  text(
    "French webmail",
    `c'est coupé\n\n> Message du 09/05/26 07:00\n> De : "Ryebell" <bot@garden.example.net>\n> A : "Ines" <ines@example.org>\n> Objet : 2 things\n>\n${QUOTE}\n`,
    "c'est coupé",
  ),
  text(
    "Italian, name before the date",
    `fatto 2\n\nIl sabato 9 maggio 2026 alle ore 07:00:00 CEST, Ryebell <bot@garden.example.net> ha scritto:\n\n${OURS}\n`,
    "fatto 2",
  ),
  text(
    "Dutch provider",
    `klaar\n\n----- Oorspronkelijk bericht -----\nVan: "Ryebell" <bot@garden.example.net>\nAan: "Ines" <ines@example.org>\nVerzonden: Zaterdag 9 mei 2026 07:00:00\nOnderwerp: 2 things\n\n${OURS}\n`,
    "klaar",
  ),
  text(
    "original message of a web suite in English",
    `cut it\n\n----- Original Message -----\nFrom: "Ryebell" <bot@garden.example.net>\nTo: "Ines" <ines@example.org>\nSent: Saturday, May 9, 2026 7:00:00 AM\nSubject: 2 things\n\n${OURS}\n`,
    "cut it",
  ),
  text(
    "quoted by a group suite: From, date, to without Sent",
    `will do\n\nFrom:        "Ryebell" <bot@garden.example.net>\nTo:        ines@example.org\nDate:        05/09/2026 07:00 AM\nSubject:        2 things\n________________________________\n\n\n\n${OURS}\n`,
    "will do",
  ),
  html(
    "two-line verb in HTML",
    `<div dir="auto">up</div><br><div class="gmail_quote"><div>On Sat, May 9, 2026 at 7:00 AM Ryebell &lt;bot@garden.example.net&gt;<br>wrote:<br></div><blockquote>${QUOTE_HTML}</blockquote></div>`,
    "up",
  ),
  html(
    "answer in the middle of a split quote",
    `<blockquote type="cite"><p>1) Cut South bed</p></blockquote><p>done yesterday</p><blockquote type="cite"><p>2) Water Kitchen bed</p></blockquote><p>not needed, it rained</p>`,
    "done yesterday\n\nnot needed, it rained",
  ),
  html(
    "Outlook on a phone",
    `<html><head><meta http-equiv="Content-Type" content="text/html; charset=utf-8"></head><body><div dir="auto">Snooze 1 to Sunday</div><div dir="auto" id="ms-outlook-mobile-signature">Get <a href="https://aka.ms/o0ukef">Outlook for iOS</a></div><hr style="display:inline-block;width:98%" tabindex="-1"><div id="divRplyFwdMsg" dir="ltr"><font face="Calibri" color="#000000"><b>Van:</b> Ryebell<br><b>Verzonden:</b> zaterdag 9 mei 2026 07:00<br><b>Aan:</b> Ines<br><b>Onderwerp:</b> 2 things</font></div>${QUOTE_HTML}</body></html>`,
    "Snooze 1 to Sunday",
  ),
  html("list of done things", `<ol><li>done</li><li>not yet</li></ol>`, "done\nnot yet"),
  html(
    "nested tables of a web suite",
    `<table><tbody><tr><td><p>first bloom</p></td></tr></tbody></table><br>--<br><span>Ines</span><br><img src="cid:x">`,
    "first bloom",
  ),
  {
    name: "the same words as plain and HTML beside each other",
    eml: eml(
      multi("mixed", [
        part("text/plain; charset=utf-8", "done 1 & 2"),
        part("text/html; charset=utf-8", "<p>done 1 &amp; 2</p>"),
      ]),
    ),
    reply: "done 1 & 2",
  },
  {
    name: "logo below a name, no marks, small as it is shown",
    eml: eml(
      multi("related", [
        part(
          "text/html; charset=utf-8",
          `<p>up</p><p>Ines</p><img src="cid:image001.png@01DA" width="160" height="60">`,
        ),
        picture("image/png", "image001.png", ["Content-ID: <image001.png@01DA>"], "inline"),
      ]),
    ),
    reply: "up\n\nInes",
  },
  {
    name: "three photos in related, shown in the words, and one attached",
    eml: eml(
      multi("mixed", [
        nest(
          "related",
          [
            part(
              "text/html; charset=utf-8",
              `<div><img src="cid:a" width="400"><img src="cid:b"><br>these<img src="cid:c" height="300"></div>`,
            ),
            ...["a", "b", "c"].map((cid) => picture("image/jpeg", `${cid}.jpg`, [`Content-ID: <${cid}>`], "inline")),
          ],
          "=_rel",
        ),
        picture("image/heic", "d.heic"),
      ]),
    ),
    reply: "these",
    photos: 4,
  },
  {
    name: "photo without a name or disposition",
    eml: eml(
      multi("mixed", [
        part("text/plain", "look"),
        `Content-Type: image/jpeg\nContent-Transfer-Encoding: base64\n\n${JPEG}`,
      ]),
    ),
    reply: "look",
    photos: 1,
  },
  {
    name: "quoted-printable across lines inside a letter",
    eml: eml({ encoding: "quoted-printable", body: "fin=C3=\n=A9, l=C3=A0 o=C3=B9 =C3=A7a va\n" }),
    reply: "finé, là où ça va",
  },
  {
    name: "latin-1 label, windows letters",
    eml: eml({
      type: "text/plain; charset=iso-8859-1",
      encoding: "quoted-printable",
      body: "=93patchy=94 =96 half of it=85",
    }),
    reply: "“patchy” – half of it…",
  },
  {
    name: "HTML in latin-1 that says so in its head only",
    eml: eml({ type: "text/html", letters: "latin1", body: `<meta charset="iso-8859-1"><p>gem\u00e4ht</p>` }),
    reply: "gemäht",
  },
  {
    name: "UTF-8 cut in the middle of a letter",
    eml: Buffer.concat([eml({ body: "färdig, ja" }), Buffer.from([0xc3])]),
    reply: "färdig, ja\ufffd",
  },
  {
    name: "a letter between two headers that has none",
    eml: Buffer.from("Subject: x\r\n\r\n\r\n\r\ndone 1\r\n"),
    reply: "done 1",
  },
  {
    name: "content type in capitals, boundary in quotes with blanks",
    eml: eml({
      type: 'MULTIPART/MIXED; BOUNDARY=" b ound "',
      body: "-- b ound \nCONTENT-TYPE: TEXT/PLAIN; CHARSET=UTF-8\n\nup\n-- b ound --\n",
    }),
    reply: "up",
  },
  {
    name: "holiday answer of an office server",
    eml: eml({
      head: withHead("Subject", "Automatic reply: 2 things", [
        "X-Auto-Response-Suppress: All",
        "Auto-Submitted: auto-generated",
      ]),
      type: "text/html",
      body: "<p>Away</p>",
    }),
    reply: "Away",
    auto: true,
  },
  {
    name: "holiday answer in French, by subject",
    eml: eml({ head: withHead("Subject", "=?iso-8859-1?Q?R=E9ponse_automatique_=3A_2_things?="), body: "Absente\n" }),
    reply: "Absente",
    auto: true,
  },
  {
    name: "delivered as promised is a report too",
    eml: eml({
      head: [
        "From: postmaster@mx.example.org",
        "To: bot@garden.example.net",
        "Subject: Successful Mail Delivery Report",
        "MIME-Version: 1.0",
      ],
      ...multi("report; report-type=delivery-status", [
        part("text/plain", "Delivered."),
        part(
          "message/delivery-status",
          "Reporting-MTA: dns; mx\n\nFinal-Recipient: rfc822; ines@example.org\nAction: delivered\nStatus: 2.0.0",
        ),
      ]),
    }),
    reply: "",
    bounce: true,
    auto: true,
  },
  {
    name: "letters named by number that nobody sees",
    eml: eml({ type: "text/html; charset=utf-8", body: "<p>do&#7;ne&#x200b; 1&#13;</p>" }),
    reply: "done 1",
  },
  {
    name: "a person called Postmaster",
    eml: eml({
      head: [
        "From: Postmaster of the Village <postmaster@village.example.org>",
        "To: bot@garden.example.net",
        "Subject: Re: 2 things",
      ],
      body: "done 1\n",
    }),
    reply: "done 1",
  },
]

export const SAMPLES: Sample[] = [
  ...LANGUAGES,
  ...CLIENTS,
  ...WORDS_THAT_ARE_NEW,
  ...HTML,
  ...PHOTOS,
  ...LETTERS,
  ...MACHINES,
  ...BROKEN,
  ...SECOND,
  ...THIRD,
]
