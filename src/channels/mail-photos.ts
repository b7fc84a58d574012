import { closeSync, existsSync, fsyncSync, mkdirSync, openSync, renameSync, rmSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import type { Media } from "../bot/needs.ts"
import type { MailPart } from "./mail-mime.ts"
import { photoKind, photoPixels } from "./photo-kind.ts"

/** Keeps one picture of a message; null where it may not be kept. */
export type SavePhoto = (picture: { message: string; index: number; bytes: Buffer }) => Promise<Media | null>

/** What a picture attached to a mail may be (failure X15): mails carry more than short messages do. */
const MOST_BYTES = 20 * 1024 * 1024
const MOST_PIXELS = 40_000_000
const MOST_PHOTOS = 10

/** Saves the pictures of a mail, one after the other; `missing` counts those that were not kept. Never throws: the words go on. */
export async function savePictures(
  message: string,
  pictures: readonly MailPart[],
  save: SavePhoto | null,
): Promise<{ media: Media[]; missing: number }> {
  const media: Media[] = []
  for (const [index, picture] of pictures.slice(0, MOST_PHOTOS).entries()) {
    const kept = await save?.({ message, index, bytes: picture.content() }).catch(() => null)
    if (kept) media.push(kept)
  }
  return { media, missing: pictures.length - media.length }
}

/**
 * Keeps pictures in a folder beside the data, under names that follow from the message, written aside and then named: a
 * picture is there whole or not at all, and saved twice it is there once. What it is, its bytes tell.
 */
export function photoSaver(folder: string): SavePhoto {
  return async ({ message, index, bytes }) => {
    const kind = bytes.length <= MOST_BYTES ? photoKind(bytes) : null
    const pixels = kind === null ? null : photoPixels(bytes, kind)
    if (kind === null || (pixels ?? 0) > MOST_PIXELS) return null
    const name = `${message.replace(/[^A-Za-z0-9_-]+/g, "-").slice(0, 100)}-${index + 1}.${kind.ending}`
    const file = join(folder, name)
    if (!existsSync(file)) writeWhole(folder, file, bytes)
    return { url: name, type: kind.type }
  }
}

function writeWhole(folder: string, file: string, bytes: Buffer): void {
  mkdirSync(folder, { recursive: true, mode: 0o700 })
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
}
