import { createRequire } from "node:module"
import { dirname, join } from "node:path"
import type { Enclosure } from "../bot/needs.ts"
import { palettePng } from "./png-palette.ts"

/** Pixels across of the picture in a mail: twice its width on a desk, so that it stays sharp on a phone. */
const WIDTH_PX = 1200

const require = createRequire(import.meta.url)
const fonts = join(dirname(require.resolve("dejavu-fonts-ttf/package.json")), "ttf")

/** The font files the picture is lettered with: it must not depend on what a machine has installed. */
export const CHART_FONTS: readonly string[] = [join(fonts, "DejaVuSans.ttf"), join(fonts, "DejaVuSans-Bold.ttf")]

/** Turns the season picture into a PNG, 1200 pixels wide, on white. Throws where the SVG is not well-formed. */
export function chartPng(svg: string, fontFiles: readonly string[] = CHART_FONTS): Buffer {
  // Loaded with the first picture: it is the largest thing that the bot loads.
  const { Resvg }: typeof import("@resvg/resvg-js") = require("@resvg/resvg-js")
  const drawn = new Resvg(svg, {
    font: { loadSystemFonts: false, fontFiles: [...fontFiles], defaultFontFamily: "DejaVu Sans" },
    fitTo: { mode: "width", value: WIDTH_PX },
    background: "#ffffff",
  }).render()
  return palettePng(drawn.pixels, drawn.width, drawn.height)
}

/** The season picture of a mail as a file that goes with it, shown inline under the content id that its HTML names. */
export function chartEnclosure(svg: string, cid: string): Enclosure {
  return { name: "season.png", type: "image/png", base64: chartPng(svg).toString("base64"), cid }
}
