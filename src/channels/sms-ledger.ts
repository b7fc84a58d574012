import { z } from "zod"
import type { Instant } from "../values/instant.ts"

/**
 * When the calls for a message began and ended; `ended` null: nobody knows, as after a crash. `off`: how far the carrier's
 * clock was ahead of ours then, in milliseconds; null: not known. `sid`: the carrier has it.
 */
export type Try = { began: Instant; ended: Instant | null; off: number | null; sid: string | null }

/** Where small things are kept by name, durably. */
export type Notes = {
  recall(name: string): Promise<string | null>
  remember(name: string, value: string): Promise<void>
}

/**
 * The book of tries. Equal words to one phone cannot be told apart in the carrier's list, so it is written down before each
 * call that it begins, and after it whose the carrier's id is.
 */
export type Ledger = {
  /** `never`: certainly never called since it was last settled; `unknown`: nothing can be said. */
  tryOf(key: string): Promise<Try | "never" | "unknown">
  /** The message that one of the carrier's ids belongs to; null: not known. */
  ownerOf(sid: string): Promise<string | null>
  /** A call begins. Rejects where that cannot be written: then nothing may be sent. */
  begin(key: string, at: Instant): Promise<void>
  /** A call ended and nobody knows how; `off` as in `Try`. */
  doubt(key: string, at: Instant, off: number | null): Promise<void>
  /** The carrier has the message under this id. */
  taken(key: string, sid: string, at: Instant): Promise<void>
  /** The carrier certainly does not have it. */
  notTaken(key: string): Promise<void>
}

/**
 * Names are given out from a fixed number, so that the book never grows: a message lies where its key's sum points. Where two
 * meet, the older is forgotten, and the carrier's list is read with less to go by. Several programs on one store write
 * different names, so none undoes what another wrote.
 */
const NAMES = 16_384

const instant = z
  .number()
  .int()
  .transform((ms) => ms as Instant)
const tried = z.object({
  key: z.string(),
  began: instant.nullable(),
  ended: instant.nullable(),
  off: z.number().nullable().default(null),
  sid: z.string().nullable(),
})
const owned = z.object({ sid: z.string(), key: z.string() })

/** `notes` null: what is written lasts as long as the program. */
export function openLedger(notes: Notes | null): Ledger {
  const memory = new Map<string, string>()
  const { recall, remember } = notes ?? {
    recall: async (name: string) => memory.get(name) ?? null,
    remember: async (name: string, value: string) => void memory.set(name, value),
  }

  async function read<What>(name: string, schema: z.ZodType<What>): Promise<What | "absent" | "unreadable"> {
    const text = await recall(name)
    if (text === null) return "absent"
    const found = schema.safeParse(parsed(text))
    return found.success ? found.data : "unreadable"
  }

  const tryName = (key: string) => `sms:try:${sumOf(key)}`
  const sidName = (sid: string) => `sms:sid:${sumOf(sid)}`
  const writeTry = (one: z.infer<typeof tried>) => remember(tryName(one.key), JSON.stringify(one))

  async function tryOf(key: string): Promise<Try | "never" | "unknown"> {
    const one = await read(tryName(key), tried)
    // Where nothing was ever written no call began; memory alone forgets with its program.
    if (one === "absent") return notes === null ? "unknown" : "never"
    if (one === "unreadable" || one.key !== key) return "unknown"
    return one.began === null ? "never" : { began: one.began, ended: one.ended, off: one.off, sid: one.sid }
  }

  /** The first call since it was last settled counts: a late one of then may still turn up. */
  async function began(key: string, at: Instant): Promise<Instant> {
    const before = await tryOf(key)
    return typeof before === "string" ? at : before.began
  }

  return {
    tryOf,
    async ownerOf(sid) {
      const one = await read(sidName(sid), owned)
      return typeof one === "object" && one.sid === sid ? one.key : null
    },
    begin: async (key, at) => writeTry({ key, began: await began(key, at), ended: null, off: null, sid: null }),
    doubt: async (key, at, off) => writeTry({ key, began: await began(key, at), ended: at, off, sid: null }),
    async taken(key, sid, at) {
      await writeTry({ key, began: await began(key, at), ended: at, off: null, sid })
      await remember(sidName(sid), JSON.stringify({ sid, key }))
    },
    notTaken: async (key) => writeTry({ key, began: null, ended: null, off: null, sid: null }),
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}

/** A number below NAMES that follows from a text (FNV-1a, from memory). */
function sumOf(text: string): number {
  let hash = 2166136261
  for (let i = 0; i < text.length; i += 1) hash = Math.imul(hash ^ text.charCodeAt(i), 16777619)
  return (hash >>> 0) % NAMES
}
