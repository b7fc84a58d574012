/** Small pictures, and things that only look like them: headers by each format's own description, from memory. */
const text = (letters: string) => [...letters].map((letter) => letter.charCodeAt(0))
const be16 = (n: number) => [(n >> 8) & 0xff, n & 0xff]
const be32 = (n: number) => [(n >>> 24) & 0xff, (n >>> 16) & 0xff, (n >>> 8) & 0xff, n & 0xff]
const le16 = (n: number) => [n & 0xff, (n >> 8) & 0xff]
const bytes = (...parts: number[][]) => new Uint8Array([...parts.flat(), ...new Array(32).fill(0)])

export const jpeg = (width: number, height: number) =>
  bytes(
    [0xff, 0xd8],
    [0xff, 0xe0, ...be16(16), ...text("JFIF\0"), 1, 1, 0, 0, 1, 0, 1, 0, 0],
    [0xff, 0xc2, ...be16(17), 8, ...be16(height), ...be16(width), 3],
  )
export const png = (width: number, height: number) =>
  bytes([0x89, ...text("PNG\r\n"), 0x1a, 0x0a], be32(13), text("IHDR"), be32(width), be32(height), [8, 6, 0, 0, 0])
export const gif = (width: number, height: number) => bytes(text("GIF89a"), le16(width), le16(height))
export const webpLossy = (width: number, height: number) =>
  bytes(
    text("RIFF"),
    [0, 0, 0, 0],
    text("WEBPVP8 "),
    [0, 0, 0, 0],
    [0, 0, 0, 0x9d, 0x01, 0x2a],
    le16(width),
    le16(height),
  )
export const webpLossless = (width: number, height: number) => {
  const bits = (width - 1) | ((height - 1) << 14)
  return bytes(
    text("RIFF"),
    [0, 0, 0, 0],
    text("WEBPVP8L"),
    [0, 0, 0, 0],
    [0x2f],
    [bits & 0xff, (bits >>> 8) & 0xff, (bits >>> 16) & 0xff, (bits >>> 24) & 0xff],
  )
}
export const webpExtended = (width: number, height: number) => {
  const le24 = (n: number) => [n & 0xff, (n >> 8) & 0xff, (n >> 16) & 0xff]
  return bytes(
    text("RIFF"),
    [0, 0, 0, 0],
    text("WEBPVP8X"),
    [10, 0, 0, 0],
    [0, 0, 0, 0],
    le24(width - 1),
    le24(height - 1),
  )
}
export const heic = (width: number, height: number) =>
  bytes(
    be32(24),
    text("ftypheic"),
    be32(0),
    text("mif1heic"),
    be32(20),
    text("ispe"),
    be32(0),
    be32(160),
    be32(120),
    be32(20),
    text("ispe"),
    be32(0),
    be32(width),
    be32(height),
  )

export const PICTURES = {
  "image/jpeg": jpeg,
  "image/png": png,
  "image/gif": gif,
  "image/webp": webpLossy,
  "image/heic": heic,
}

export const NO_PICTURES: Record<string, Uint8Array> = {
  "a page": bytes(text("<!doctype html><script>alert(1)</script>")),
  "a drawing in SVG": bytes(text('<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>')),
  "a PDF": bytes(text("%PDF-1.7")),
  "an archive": bytes([0x50, 0x4b, 3, 4]),
  "a program": bytes([0x7f], text("ELF")),
  "a film": bytes(be32(24), text("ftypisom")),
  "half a signature": new Uint8Array([0xff, 0xd8]),
  nothing: new Uint8Array(),
}
