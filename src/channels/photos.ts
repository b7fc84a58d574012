import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs"
import { join } from "node:path"
import type { Incoming } from "../bot/needs.ts"
import { getBytes, type Host, PhotoRefused } from "./photo-fetch.ts"
import { PHOTO_KINDS, type PhotoKind, photoKind, photoPixels } from "./photo-kind.ts"

/** What became of one picture. `refused` stays so; `later`: it may be had another time. */
export type PhotoOutcome =
  | { is: "kept"; name: string; type: string }
  | { is: "refused"; code: string; text: string }
  | { is: "later"; code: string; text: string }

export type PhotoOptions = {
  /** Where pictures may come from; the key goes to those alone that say so, and never along with a redirect. */
  hosts: readonly Host[]
  /** Folder beside the data. */
  folder: string
  credentials: { user: string; password: string } | null
  /** Bytes of one picture, at most. */
  mostBytes?: number
  timeoutMs?: number
}

/** As a phone's picture needs, with room. */
const MOST_BYTES = 10 * 1024 * 1024
/** A message may hold ten. */
const MOST_PHOTOS = 10
/** More and whoever opens it runs out of memory (failure X15). */
const MOST_PIXELS = 40_000_000
const TIMEOUT_MS = 15_000

/** The carrier's own hosts: its interface, which wants the key, and the stores that it sends us on to (from memory). */
export const CARRIER_HOSTS: readonly Host[] = [
  { origin: "https://api.twilio.com", path: "/2010-04-01/Accounts/", key: true },
  { origin: "https://media.twiliocdn.com", path: "/", key: false },
  { origin: "https://mms.twiliocdn.com", path: "/", key: false },
  { origin: "https://s3-external-1.amazonaws.com", path: "/media.twiliocdn.com/", key: false },
]

/** The hosts of a trial: the stand-in's address alone, where it stands on this machine. */
export function standInHosts(apiUrl: string): readonly Host[] {
  return [{ origin: new URL(apiUrl).origin, path: "/", key: true, ownMachine: true }]
}

/**
 * Fetches the pictures of a message and keeps them beside the data, each under a name that follows from the message's id:
 * fetched twice it is there once. Nothing that goes wrong with a picture costs the words it came with: this never throws.
 */
export async function fetchPhotos(
  incoming: Pick<Incoming, "id" | "media">,
  options: PhotoOptions,
): Promise<PhotoOutcome[]> {
  const wanted = incoming.media.slice(0, MOST_PHOTOS)
  return Promise.all(wanted.map((media, index) => onePhoto(media.url, photoName(incoming.id, index), options)))
}

/** The message with its pictures by the names they are kept under; those that were not to be had are counted in `extra`. */
export function withPhotos<Message extends Incoming>(incoming: Message, outcomes: readonly PhotoOutcome[]): Message {
  const media = outcomes.flatMap((each) => (each.is === "kept" ? [{ url: each.name, type: each.type }] : []))
  const missing = incoming.media.length - media.length
  return {
    ...incoming,
    media,
    ...(missing > 0 ? { extra: { ...incoming.extra, photosMissing: String(missing) } } : {}),
  }
}

/** A picture that was kept; null where there is none of that name, or it is no picture. */
export function readPhoto(folder: string, name: string): { type: string; bytes: Uint8Array<ArrayBuffer> } | null {
  if (!/^[A-Za-z0-9_-]+\.[a-z]{3,4}$/.test(name)) return null
  try {
    const bytes = new Uint8Array(readFileSync(join(folder, name)))
    const kind = photoKind(bytes)
    return kind === null ? null : { type: kind.type, bytes }
  } catch {
    return null
  }
}

/** Follows from the message's id alone, and holds nothing that a path could be made of. */
function photoName(id: string, index: number): string {
  return `${id.replace(/[^A-Za-z0-9_-]+/g, "-").slice(0, 100)}-${index + 1}`
}

async function onePhoto(url: string, name: string, options: PhotoOptions): Promise<PhotoOutcome> {
  try {
    const before = keptBefore(options.folder, name)
    if (before) return before
    const bytes = await getBytes(url, {
      hosts: options.hosts,
      credentials: options.credentials,
      mostBytes: options.mostBytes ?? MOST_BYTES,
      timeoutMs: options.timeoutMs ?? TIMEOUT_MS,
    })
    const kind = photoKind(bytes)
    if (kind === null) return refused("no-picture", "it is no picture of a kind that is kept")
    const pixels = photoPixels(bytes, kind)
    if (pixels === null || pixels === 0) return refused("no-size", "a picture that does not say how large it is")
    if (pixels > MOST_PIXELS) return refused("too-many-pixels", "a picture of more than 40 megapixels")
    return keep(options.folder, name, kind, bytes)
  } catch (error) {
    if (error instanceof PhotoRefused)
      return { is: error.again ? "later" : "refused", code: error.code, text: error.message }
    return { is: "later", code: "not-kept", text: "the picture could not be kept" }
  }
}

function refused(code: string, text: string): PhotoOutcome {
  return { is: "refused", code, text }
}

function keptBefore(folder: string, name: string): PhotoOutcome | null {
  const kind = PHOTO_KINDS.find((each) => existsSync(join(folder, `${name}.${each.ending}`)))
  return kind ? { is: "kept", name: `${name}.${kind.ending}`, type: kind.type } : null
}

/** Written aside, synced, then named: a picture is there whole or not at all. Only we may read it. */
function keep(folder: string, name: string, kind: PhotoKind, bytes: Uint8Array): PhotoOutcome {
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  const file = join(folder, `${name}.${kind.ending}`)
  const aside = `${file}.${process.pid}.new`
  try {
    const fd = openSync(aside, "w", 0o600)
    try {
      writeFileSync(fd, bytes)
      fsyncSync(fd)
    } finally {
      closeSync(fd)
    }
    renameSync(aside, file)
  } catch (error) {
    rmSync(aside, { force: true })
    throw error
  }
  return { is: "kept", name: `${name}.${kind.ending}`, type: kind.type }
}
