import { crc32, deflateSync } from "node:zlib"

/** Colours of an indexed picture (PNG specification, third edition, 11.2.2: at most 256). */
const MOST = 256

/**
 * Writes pixels (RGBA, opaque) as a PNG with a palette: a third of the size of one with full colours, which counts where
 * it goes into a mail. The most frequent colours are kept to the letter, the others become the nearest of them; in a
 * drawing of few colours these are only the soft edges of lines and letters.
 */
export function palettePng(pixels: Uint8Array, width: number, height: number): Buffer {
  const counts = new Map<number, number>()
  for (let i = 0; i < pixels.length; i += 4) {
    const colour = colourAt(pixels, i)
    counts.set(colour, (counts.get(colour) ?? 0) + 1)
  }
  const palette = [...counts]
    .sort((a, b) => b[1] - a[1] || a[0] - b[0])
    .slice(0, MOST)
    .map(([colour]) => colour)
  const indexOf = new Map(palette.map((colour, index) => [colour, index]))
  const rows = Buffer.alloc((width + 1) * height)
  for (let y = 0, at = 0; y < height; y += 1) {
    // Each row begins with its filter: none (0), which suits indexed pictures (same specification, 12.7).
    const start = y * (width + 1) + 1
    for (let x = 0; x < width; x += 1, at += 4) {
      const colour = colourAt(pixels, at)
      let index = indexOf.get(colour)
      if (index === undefined) {
        index = nearest(colour, palette)
        indexOf.set(colour, index)
      }
      rows[start + x] = index
    }
  }
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", header(width, height)),
    chunk("PLTE", Buffer.from(palette.flatMap((colour) => [colour >> 16, (colour >> 8) & 255, colour & 255]))),
    chunk("IDAT", deflateSync(rows, { level: 9 })),
    chunk("IEND", Buffer.alloc(0)),
  ])
}

function colourAt(pixels: Uint8Array, at: number): number {
  return ((pixels[at] as number) << 16) | ((pixels[at + 1] as number) << 8) | (pixels[at + 2] as number)
}

function nearest(colour: number, palette: readonly number[]): number {
  let best = 0
  let least = Number.POSITIVE_INFINITY
  for (let i = 0; i < palette.length; i += 1) {
    const other = palette[i] as number
    const red = (colour >> 16) - (other >> 16)
    const green = ((colour >> 8) & 255) - ((other >> 8) & 255)
    const blue = (colour & 255) - (other & 255)
    const distance = red * red + green * green + blue * blue
    if (distance < least) {
      least = distance
      best = i
    }
  }
  return best
}

function header(width: number, height: number): Buffer {
  const data = Buffer.alloc(13)
  data.writeUInt32BE(width, 0)
  data.writeUInt32BE(height, 4)
  // Eight bits a pixel, colour type 3 (indexed), the one compression, the one filter method, not interlaced.
  data.set([8, 3, 0, 0, 0], 8)
  return data
}

function chunk(type: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(type, "latin1"), data])
  const whole = Buffer.alloc(named.length + 8)
  whole.writeUInt32BE(data.length, 0)
  named.copy(whole, 4)
  whole.writeUInt32BE(crc32(named), named.length + 4)
  return whole
}
