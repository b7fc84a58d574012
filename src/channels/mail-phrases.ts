/**
 * How mail programs of many languages introduce what they quote. Written down from what such programs are commonly seen to
 * write (common practice, no source); the shapes in mail-attribution.ts and mail-block.ts catch others by form.
 */

const words = (text: string) => new Set(text.split(" "))

/** Verbs between a person and their words, folded: small letters, no accents, no brackets. */
export const WROTE = words(
  "wrote writes schrieb schreibt ecrit ecrivait ecrivit escribio escribe scritto scrive scrisse schreef schrijft geschreven escreveu escreve skrev skriver skrifadi kirjoitti kirjutas napisal napisala napisano napisana pisze pise napsal napsala napsal/a napsal(a) napisao napisala irta rasa parase пише писал писала пишет написал написала написав yazdi sinabi viet menulis tulis έγραψε εγραψε 写道 寫道 kirjoitti:",
)

/** Of these, the ones that a name or a date may follow. */
export const TURNS_ROUND = words("schrieb schreibt schreef schrijft skrev skriver kirjoitti geschreven escreveu")

/** Beside such a verb, these make it a person's sentence. */
export const PRONOUNS = words(
  "i we he she they you ich wir er sie ik wij j j'ai ai je nous he hemos ho abbiamo eu nos jag jeg vi mina ja",
)

/** First words of a line that says when somebody wrote, folded. */
export const OPENERS = words(
  "on am le el il op em den d dne dnia w v la ke ma no data a dana 在 于 στις на pe kl vao pada pada",
)

/** Openers that may also stand in the middle of a line whose breaks were lost; written with a capital there. */
export const OPENERS_INSIDE = ["On", "Am", "Le", "El", "Il", "Op", "Em", "Den"] as const

/** Names of days and their short forms, folded, as a line may begin with them. */
export const WEEKDAYS = words(
  "mon tue tues wed thu thur thurs fri sat sun monday tuesday wednesday thursday friday saturday sunday mo di mi do fr sa so montag dienstag mittwoch donnerstag freitag samstag sonntag lun mar mer jeu ven sam dim lundi mardi mercredi jeudi vendredi samedi dimanche mie jue vie sab dom lunes martes miercoles jueves viernes sabado domingo gio lunedi martedi mercoledi giovedi venerdi sabato domenica ma wo za zo maandag dinsdag woensdag donderdag vrijdag zaterdag zondag seg ter qua qui sex segunda terca quarta quinta sexta tis ons tors lor mandag tirsdag onsdag torsdag fredag lordag sondag mandag pon wt sr czw pt sob niedz nd poniedzialek wtorek sroda czwartek piatek sobota niedziela ti ke to pe su",
)

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
  "preposlana zprava",
  "исходное сообщение",
  "пересылаемое сообщение",
  "пересланное сообщение",
  "原始邮件",
  "转发的邮件",
] as const

/** How the line begins that a phone or a program puts under every mail, folded. */
export const SENT_FROM = [
  "sent from",
  "sent via",
  "sent with",
  "sent using",
  "sent by",
  "sent on",
  "get outlook for",
  "download outlook for",
  "typed on",
  "written on",
  "gesendet von",
  "gesendet mit",
  "gesendet uber",
  "gesendet aus",
  "von samsung",
  "diese nachricht wurde von",
  "diese nachricht wurde mit",
  "von meinem",
  "von meiner",
  "von mobil",
  "vom handy",
  "von unterwegs",
  "mit freundlichen grussen von meinem",
  "holen sie sich outlook",
  "outlook fur",
  "envoye de",
  "envoye depuis",
  "envoye a partir",
  "envoye avec",
  "envoye via",
  "telecharger outlook",
  "telechargez outlook",
  "obtenir outlook",
  "provenance : courrier",
  "provenance: courrier",
  "enviado desde",
  "enviado do",
  "enviado de",
  "enviado da",
  "enviado con",
  "enviado com",
  "enviado a partir",
  "enviado via",
  "enviado por",
  "obtener outlook",
  "obtenha o outlook",
  "obter o outlook",
  "inviato da",
  "inviato dal",
  "inviato dall",
  "inviato con",
  "inviato tramite",
  "ottieni outlook",
  "scarica outlook",
  "verstuurd vanaf",
  "verstuurd met",
  "verstuurd via",
  "verzonden vanaf",
  "verzonden met",
  "verzonden via",
  "outlook voor",
  "download outlook voor",
  "skickat fran",
  "skickat med",
  "skickat via",
  "hamta outlook",
  "sendt fra",
  "sendt med",
  "sendt via",
  "hent outlook",
  "lahetetty",
  "hanki outlook",
  "wyslane z",
  "wyslano z",
  "wyslane przez",
  "pobierz aplikacje outlook",
  "pobierz outlook",
  "odeslano z",
  "отправлено с",
  "отправлено из",
  "发自我的",
  "從我的",
  "iphoneから送信",
] as const

/** What must stand in such a line so that it is about a device or a program, folded; whole words or their beginnings. */
export const DEVICES = [
  "my ",
  "my",
  "mein",
  "mon ",
  "ma ",
  "mi ",
  "min ",
  "mijn",
  "meu",
  "minha",
  "mio",
  "mia",
  "mojego",
  "mitt",
  "mobil",
  "iphone",
  "ipad",
  "ios",
  "android",
  "samsung",
  "galaxy",
  "huawei",
  "xiaomi",
  "pixel",
  "blackberry",
  "nokia",
  "outlook",
  "yahoo",
  "gmail",
  "mail",
  "courrier",
  "correo",
  "posta",
  "poczt",
  "windows",
  "phone",
  "telefon",
  "handy",
  "tablet",
  "smartphone",
  "unterwegs",
  "proton",
  "tutanota",
  "spark",
  "gmx",
  "web.de",
  "orange",
  "t-online",
  "aol",
  "mac",
  "app",
  "device",
  "verizon",
  "thunderbird",
  "aqua",
  "bluemail",
  "typeapp",
  "nine",
  "superhuman",
  "onet",
  "wp",
  "iphone'a",
  "appareil",
] as const

/** How such a line may go on behind its first sentence, folded. */
export const EXCUSES = [
  "please",
  "excuse",
  "sorry",
  "apolog",
  "forgive",
  "pardon",
  "typos",
  "bitte",
  "entschuldig",
  "verzeih",
  "veuillez",
  "desole",
  "merci d",
  "perdon",
  "disculp",
  "scus",
  "desculp",
  "excus",
  "ursakta",
  "undskyld",
  "przeprasz",
  "http",
  "www",
  "<http",
] as const

/** Letters without accents, small, with plain apostrophes: how phrases are compared. */
export function folded(text: string): string {
  return text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[’‘`´]/g, "'")
    .replace(/ł/g, "l")
    .replace(/ø/g, "o")
    .replace(/æ/g, "ae")
    .replace(/ß/g, "ss")
    .replace(/ı/g, "i")
}
