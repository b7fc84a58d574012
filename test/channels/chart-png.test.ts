import { inflateSync } from "node:zlib"
import { Resvg } from "@resvg/resvg-js"
import { describe, expect, it } from "vitest"
import { CHART_FONTS, chartPng } from "../../src/channels/chart-png.ts"
import { seasonChart } from "../../src/wording/season-chart.ts"
import { bedRows } from "../../src/wording/season-chart-rows.ts"
import { BEDS, garden, manyBeds, namesOnly, ON, plan } from "../wording/long-acre.ts"

/** Reads an indexed PNG of 8 bits without filters: the pixels as colours, row by row. */
function read(png: Buffer): { width: number; height: number; at(x: number, y: number): number } {
  expect(png.subarray(0, 8).toString("latin1")).toBe("\x89PNG\r\n\x1a\n")
  const chunks = new Map<string, Buffer>()
  for (let at = 8; at < png.length; ) {
    const length = png.readUInt32BE(at)
    chunks.set(png.toString("latin1", at + 4, at + 8), png.subarray(at + 8, at + 8 + length))
    at += length + 12
  }
  const head = chunks.get("IHDR") as Buffer
  const [width, height] = [head.readUInt32BE(0), head.readUInt32BE(4)]
  expect([...head.subarray(8)]).toEqual([8, 3, 0, 0, 0])
  const palette = chunks.get("PLTE") as Buffer
  const rows = inflateSync(chunks.get("IDAT") as Buffer)
  expect(rows).toHaveLength((width + 1) * height)
  return { width, height, at: (x, y) => palette.readUIntBE((rows[y * (width + 1) + 1 + x] as number) * 3, 3) }
}

const rows = bedRows(plan(), { garden: garden(BEDS), handbook: namesOnly(), on: ON })
const svg = seasonChart(rows, { on: ON, title: "x", description: "x", for: "picture" })

/** Dark pixels between two heights of the picture, given in the SVG's own units. */
function dark(png: Buffer, from: number, to: number, unit: number): number {
  const picture = read(png)
  let count = 0
  for (let y = Math.round(from * unit); y < Math.round(to * unit); y += 1)
    for (let x = 0; x < picture.width; x += 1) if (picture.at(x, y) >> 16 < 0x60) count += 1
  return count
}

describe("the picture as PNG", () => {
  const png = chartPng(svg)
  const bare = chartPng(svg, [])
  const unit = 1200 / Number(/viewBox="\S+ \S+ (\d+)/.exec(svg)?.[1])

  it("really holds its letters: today, each bed's name and the key are there, and gone without the font files", () => {
    const [, , , height] = (/viewBox="([^"]+)"/.exec(svg)?.[1] ?? "").split(" ").map(Number) as [
      number,
      number,
      number,
      number,
    ]
    const lines: [string, number, number][] = [
      ["today", 12, 26],
      ...rows.map((row, i): [string, number, number] => [row.name, 12 + 50 + i * 66 + 2, 12 + 50 + i * 66 + 19]),
      ["notes", height - 12 - 50, height - 12 - 8],
    ]
    for (const [what, from, to] of lines) {
      const [lettered, without] = [dark(png, from, to, unit), dark(bare, from, to, unit)]
      expect({ what, lettered: lettered > without + 400 }).toEqual({ what, lettered: true })
    }
  })

  it("is 1200 pixels wide and as high as the drawing asks", () => {
    const { width, height } = read(png)
    const [w, h] = (/width="(\d+)" height="(\d+)"/.exec(svg) ?? []).slice(1).map(Number) as [number, number]
    expect([width, height]).toEqual([1200, Math.round((h * 1200) / w)])
  })

  it("shows the colours of the drawing, within what soft edges take", () => {
    const drawn = new Resvg(svg, {
      font: { loadSystemFonts: false, fontFiles: [...CHART_FONTS] },
      fitTo: { mode: "width", value: 1200 },
      background: "#fff",
    }).render()
    // Each look at `pixels` copies all of them.
    const pixels = drawn.pixels
    const picture = read(png)
    let off = 0
    for (let y = 0; y < picture.height; y += 3)
      for (let x = 0; x < picture.width; x += 3) {
        const i = (y * picture.width + x) * 4
        const colour = picture.at(x, y)
        const far = [16, 8, 0].some((shift, k) => Math.abs(((colour >> shift) & 255) - (pixels[i + k] as number)) > 32)
        if (far) off += 1
      }
    expect(off / ((picture.width * picture.height) / 9)).toBeLessThan(0.002)
  })

  it("is small enough for a mail, also of forty beds", () => {
    expect(png.length).toBeLessThan(100_000)
    const many = manyBeds(40)
    const forty = bedRows(many.plan, { garden: garden(many.beds), handbook: namesOnly(), on: ON })
    expect(chartPng(seasonChart(forty, { on: ON, title: "x", description: "x", for: "picture" })).length).toBeLessThan(
      500_000,
    )
  })
})
