/**
 * How mail programs of many languages say who wrote what they quote, and when. Written down from what such programs are
 * commonly seen to write (common practice, no source); the shapes in mail-attribution.ts catch others by form.
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
