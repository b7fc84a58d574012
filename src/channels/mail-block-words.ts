/**
 * What mail programs of many languages put above an earlier mail: labels and titles. Written down from what such programs
 * are commonly seen to write (common practice, no source); the shapes in mail-block.ts catch others by form.
 */

type Label = "from" | "sent" | "to" | "subject" | "copy"

const LABEL_WORDS: Record<Label, string> = {
  from: "from|von|de|da|van|fran|fra|od|expediteur|mittente|remitente|afzender|avsandare|afsender|nadawca|lahettaja|от|от кого|发件人|寄件者|差出人|보낸 사람|kimden|απο|felado|de la",
  sent: "sent|date|gesendet|datum|envoye|envoye le|date d'envoi|enviado|enviado el|enviado em|enviada em|enviada|fecha|data|inviato|verzonden|verzonden op|skickat|sendt|dato|wyslano|data|lahetetty|paivays|odeslano|отправлено|дата|发送时间|日期|送信日時|날짜|보낸 날짜|gonderildi|tarih|elkuldve|trimis|sendt den",
  to: "to|an|a|para|aan|till|til|do|pour|destinataire|destinatario|kome|vastaanottaja|komu|кому|收件人|宛先|받는 사람|kime|προς|cimzett|catre",
  subject:
    "subject|betreff|objet|sujet|asunto|oggetto|onderwerp|assunto|amne|emne|temat|aihe|predmet|тема|主题|主旨|件名|제목|konu|θεμα|targy|subiect|re",
  copy: "cc|copie|kopie|kopia|kopi|copia|bcc|kopio|reply-to|antwort an|repondre a|responder a|importance|attachments|dw|udw",
}

/** Labels of the block that stands above an earlier mail, folded. A word may be two labels: "data" is a date in Italian. */
export const LABELS: ReadonlyMap<string, Label> = new Map(
  (Object.entries(LABEL_WORDS) as [Label, string][]).flatMap(([label, all]) =>
    all.split("|").map((word) => [word, label] as const),
  ),
)
export type { Label }

/** What stands between dashes above an earlier mail, folded. */
export const TITLES = [
  "original message",
  "original-nachricht",
  "original nachricht",
  "originalnachricht",
  "original appointment",
  "forwarded message",
  "forwarded by",
  "begin forwarded message",
  "start of forwarded message",
  "reply message",
  "original mail",
  "ursprungliche nachricht",
  "weitergeleitete nachricht",
  "anfang der weitergeleiteten nachricht",
  "weitergeleitete mail",
  "message d'origine",
  "message original",
  "message initial",
  "message transfere",
  "message reexpedie",
  "mail transfere",
  "debut du message transfere",
  "debut du message reexpedie",
  "mensaje original",
  "mensaje reenviado",
  "inicio del mensaje reenviado",
  "messaggio originale",
  "messaggio inoltrato",
  "inizio messaggio inoltrato",
  "inizio del messaggio inoltrato",
  "oorspronkelijk bericht",
  "oorspronkelijke bericht",
  "origineel bericht",
  "doorgestuurd bericht",
  "begin doorgestuurd bericht",
  "mensagem original",
  "mensagem encaminhada",
  "inicio da mensagem encaminhada",
  "inicio da mensagem reencaminhada",
  "mensagem reencaminhada",
  "ursprungligt meddelande",
  "originalmeddelande",
  "vidarebefordrat meddelande",
  "vidarebefordrat brev",
  "vidarebefordrat mejl",
  "oprindelig meddelelse",
  "oprindelig besked",
  "videresendt meddelelse",
  "videresendt besked",
  "start pa videresendt besked",
  "start pa videresendt meddelelse",
  "opprinnelig melding",
  "videresendt melding",
  "alkuperainen viesti",
  "valitetty viesti",
  "wiadomosc oryginalna",
  "oryginalna wiadomosc",
  "wiadomosc przekazana",
  "przekazana wiadomosc",
  "wiadomosc przeslana dalej",
  "poczatek przekazywanej wiadomosci",
  "puvodni zprava",
  "puvodni e-mail",
  "puvodna sprava",
  "eredeti uzenet",
  "mesaj original",
  "izvorna poruka",
  "orijinal ileti",
  "preposlana zprava",
  "исходное сообщение",
  "пересылаемое сообщение",
  "пересланное сообщение",
  "原始邮件",
  "转发的邮件",
] as const
