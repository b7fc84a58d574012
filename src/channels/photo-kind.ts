/** A picture as its first bytes tell it: never by its name or by what the sender said of it. */
export type PhotoKind = { type: string; ending: string }

const JPEG: PhotoKind = { type: "image/jpeg", ending: "jpg" }
const PNG: PhotoKind = { type: "image/png", ending: "png" }
const GIF: PhotoKind = { type: "image/gif", ending: "gif" }
const WEBP: PhotoKind = { type: "image/webp", ending: "webp" }
const HEIC: PhotoKind = { type: "image/heic", ending: "heic" }

export const PHOTO_KINDS: readonly PhotoKind[] = [JPEG, PNG, GIF, WEBP, HEIC]

/** Brands of the ISO media file format that a phone's still pictures carry (ISO/IEC 23008-12 annex B, from memory). */
const HEIC_BRANDS = new Set(["heic", "heix", "heim", "heis", "hevc", "hevx", "hevm", "hevs", "mif1", "msf1"])

/**
 * What a picture is: JPEG, PNG, GIF, WebP or HEIC; null for anything else. By the signatures that each format's own
 * description gives (ITU-T T.81 B.1, W3C PNG 5.2, GIF89a 17, RFC 9649 2.4, ISO/IEC 14496-12 4.3; from memory).
 */
export function photoKind(bytes: Uint8Array): PhotoKind | null {
  if (starts(bytes, [0xff, 0xd8, 0xff])) return JPEG
  if (starts(bytes, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return PNG
  const head = letters(bytes, 0, 6)
  if (head === "GIF87a" || head === "GIF89a") return GIF
  if (letters(bytes, 0, 4) === "RIFF" && letters(bytes, 8, 12) === "WEBP") return WEBP
  if (letters(bytes, 4, 8) === "ftyp" && HEIC_BRANDS.has(letters(bytes, 8, 12))) return HEIC
  return null
}

/**
 * Width times height as the picture's own header says it, in pixels; null where the header does not say. A small file may
 * unfold into a huge picture, so this is asked before anything shows it (failure X15).
 */
export function photoPixels(bytes: Uint8Array, kind: PhotoKind): number | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  switch (kind) {
    case PNG:
      return bytes.length < 24 ? null : view.getUint32(16) * view.getUint32(20)
    case GIF:
      return bytes.length < 10 ? null : view.getUint16(6, true) * view.getUint16(8, true)
    case WEBP:
      return webpPixels(bytes, view)
    case JPEG:
      return jpegPixels(bytes, view)
    default:
      return heicPixels(bytes, view)
  }
}

/** JPEG: the frame header SOF0 to SOF15 (not DHT, JPG, DAC) holds height and width (ITU-T T.81 B.2.2, from memory). */
function jpegPixels(bytes: Uint8Array, view: DataView): number | null {
  let at = 2
  while (at + 9 <= bytes.length) {
    if (bytes[at] !== 0xff) return null
    const marker = bytes[at + 1] as number
    if (marker === 0xff) {
      at += 1
      continue
    }
    const alone = marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7)
    if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker))
      return view.getUint16(at + 5) * view.getUint16(at + 7)
    if (marker === 0xda || marker === 0xd9) return null
    at += alone ? 2 : 2 + view.getUint16(at + 2)
  }
  return null
}

/** WebP: canvas of VP8X, else the first frame of VP8 (14 bits each) or VP8L (RFC 9649 2.5 to 2.7, from memory). */
function webpPixels(bytes: Uint8Array, view: DataView): number | null {
  if (bytes.length < 30) return null
  switch (letters(bytes, 12, 16)) {
    case "VP8X":
      return (1 + little24(bytes, 24)) * (1 + little24(bytes, 27))
    case "VP8 ":
      return (view.getUint16(26, true) & 0x3fff) * (view.getUint16(28, true) & 0x3fff)
    case "VP8L": {
      const bits = view.getUint32(21, true)
      return ((bits & 0x3fff) + 1) * (((bits >>> 14) & 0x3fff) + 1)
    }
    default:
      return null
  }
}

/** HEIC: the largest `ispe` (image spatial extents) among the item properties (ISO/IEC 23008-12 6.5.3, from memory). */
function heicPixels(bytes: Uint8Array, view: DataView): number | null {
  let most: number | null = null
  const end = Math.min(bytes.length - 16, 256 * 1024)
  for (let at = 8; at < end; at += 1) {
    if (bytes[at] !== 0x69 || letters(bytes, at, at + 4) !== "ispe") continue
    most = Math.max(most ?? 0, view.getUint32(at + 8) * view.getUint32(at + 12))
  }
  return most
}

function little24(bytes: Uint8Array, at: number): number {
  return (bytes[at] as number) | ((bytes[at + 1] as number) << 8) | ((bytes[at + 2] as number) << 16)
}

function starts(bytes: Uint8Array, signature: readonly number[]): boolean {
  return signature.every((byte, index) => bytes[index] === byte)
}

function letters(bytes: Uint8Array, from: number, to: number): string {
  return String.fromCharCode(...bytes.subarray(from, to))
}
