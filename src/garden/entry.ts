import { z } from "zod"
import { asInstant, type Instant } from "../values/instant.ts"
import { actSchema, askSchema, daySchema } from "./acts.ts"

/** Reads an RFC 3339 instant at the border. */
export const instantSchema = z.string().transform((text, context): Instant => {
  const found = asInstant(text)
  if (found !== null) return found
  context.addIssue({ code: "custom", message: "expected an instant, RFC 3339 with offset" })
  return z.NEVER
})

export const VIAS = ["sms", "email", "web", "terminal", "cli", "file"] as const
export const viaSchema = z.enum(VIAS)
export type Via = z.infer<typeof viaSchema>

export const REMINDER_KINDS = [
  "sow",
  "water-in",
  "check-emergence",
  "resow",
  "frost",
  "watch-boot",
  "watch-bloom",
  "cut",
  "check-regrowth",
  "rest-over",
  "plant",
] as const
export const reminderKindSchema = z.enum(REMINDER_KINDS)
export type ReminderKind = z.infer<typeof reminderKindSchema>

/** A reminder as a text told it: its number in that person's texts, and the days it named. */
export const toldSchema = z.object({
  n: z.number().int().min(1).max(99),
  id: z.string(),
  kind: reminderKindSchema,
  bed: z.string(),
  /** The days that the text named, so that "what changed" is held against what was told. */
  days: z.record(z.string(), daySchema).optional(),
  /** Which of the reminder's calls it was: 1 is the first. */
  call: z.number().int().min(1).optional(),
})
export type Told = z.infer<typeof toldSchema>

const common = {
  seq: z.number().int().min(1),
  at: instantSchema,
  garden: z.string(),
  by: z.string(),
  via: viaSchema,
}

/**
 * One line of the log. The words of people are kept to the letter; what the bot did is in it too, so that the state of
 * every reminder follows from the log alone.
 */
export const entrySchema = z.discriminatedUnion("kind", [
  /** A person wrote, or pressed a button: their words and what they were understood as. */
  z.object({
    ...common,
    kind: z.literal("reply"),
    text: z.string(),
    acts: z.array(actSchema),
    ask: askSchema.nullable().optional(),
    note: z.boolean().optional(),
    photos: z.array(z.string()).optional(),
    /** The carrier's or mailer's id of the message. */
    message: z.string().optional(),
    /** Why nothing was acted on although something was said: unknown sender, repeat of the same words. */
    ignored: z.string().optional(),
  }),
  /** An entry is taken back: every act of entry `undone` counts no more. */
  z.object({ ...common, kind: z.literal("undo"), undone: z.number().int(), text: z.string().optional() }),
  /** The bot answered a reply. */
  z.object({
    ...common,
    kind: z.literal("answer"),
    to: z.string(),
    answers: z.number().int().optional(),
    text: z.string(),
    /** Our own key of the message. */
    message: z.string().optional(),
  }),
  /** A nudge reached the channel. */
  z.object({
    ...common,
    kind: z.literal("sent"),
    to: z.string(),
    text: z.string(),
    told: z.array(toldSchema),
    /** Our own key of the message. */
    message: z.string().optional(),
  }),
  z.object({
    ...common,
    kind: z.literal("digest"),
    to: z.string(),
    week: z.string(),
    told: z.array(toldSchema.partial({ n: true })),
    /** The last entry that the mail knew of; absent in older logs. A reply behind it crossed the mail on its way. */
    seen: z.number().int().nonnegative().optional(),
  }),
  /** A message could not be sent, for good. */
  z.object({
    ...common,
    kind: z.literal("failed"),
    to: z.string(),
    of: z.array(z.string()),
    code: z.string(),
    text: z.string(),
    message: z.string().optional(),
  }),
  /** A reminder's moment passed before it was said or settled. */
  z.object({ ...common, kind: z.literal("lapsed"), of: z.string(), because: z.string() }),
  /** The state of a person's channel: stopped, started, held after a permanent failure, confirmed. */
  z.object({
    ...common,
    kind: z.literal("channel"),
    person: z.string(),
    channel: z.enum(["text", "mail"]),
    state: z.enum(["stopped", "started", "held", "confirmed"]),
    because: z.string(),
  }),
])
export type Entry = z.infer<typeof entrySchema>
export type EntryKind = Entry["kind"]
export type EntryOf<Kind extends EntryKind> = Extract<Entry, { kind: Kind }>
/** An entry that the log has not numbered yet. */
export type NewEntry = Entry extends infer One ? (One extends Entry ? Omit<One, "seq"> : never) : never
