import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { type ParsedMail, simpleParser } from "mailparser"
import type { Page } from "playwright-core"
import { palettePng } from "../src/channels/png-palette.ts"
import { CHROMIUM, openBrowser, WHY_SKIPPED } from "./acceptance/browser.ts"
import { type Bot, bot, freshFolder } from "./acceptance/program.ts"
import { smtpStandIn, type TakenMail } from "./stand-ins/mail-smtp.ts"

/*
 * Makes the two pictures of the README from the running program: `npx node test/pictures.ts [FOLDER]` plays a spring in the
 * example garden, with what Ines writes, and takes her season page and her weekly mail as Chromium shows them. Without a
 * folder they go to shared/pictures.
 */

const FOLDER = process.argv[2] ?? new URL("../shared/pictures", import.meta.url).pathname
const PORT = 18319
/** What Ines writes, and when: so that the pictures show a garden that somebody minds. */
const TOLD: [string, string[]][] = [
  ["2026-03-16T21:00:00Z", ["frame is up"]],
  ["2026-04-01T21:00:00Z", ["cut the tunnel, it was in full bloom"]],
  ["2026-04-12T21:00:00Z", ["no regrowth in the tunnel", "kitchen bed is up"]],
  ["2026-04-19T21:00:00Z", ["cut the peas in the frame"]],
  ["2026-04-26T21:00:00Z", []],
  ["2026-05-03T21:00:00Z", ["no regrowth in the frame"]],
  ["2026-05-06T21:00:00Z", ["rye on the long one has its heads out, about 4 ft, smells like rain"]],
]
const SUNDAY = "2026-05-10T21:00:05Z"

if (!CHROMIUM) {
  console.error(`No pictures were made: ${WHY_SKIPPED}.`)
  process.exit(1)
}

const data = freshFolder("pictures")
const smtp = await smtpStandIn()
const garden = join(data, "garden.yaml")
writeFileSync(garden, readFileSync(new URL("../config/garden.yaml", import.meta.url)))
const env = {
  RYEBELL_DATA: data,
  RYEBELL_GARDEN: garden,
  LOG_LEVEL: "error",
  PORT: String(PORT),
  PUBLIC_URL: `http://127.0.0.1:${PORT}`,
  SMTP_URL: smtp.url,
  MAIL_FROM: "Ryebell <bot@example.org>",
}

async function startAt(clock: string): Promise<Bot> {
  const running = bot(["run"], { ...env, RYEBELL_CLOCK: clock })
  await running.says("Season page of Ines")
  return running
}

async function until(what: string, so: () => boolean): Promise<void> {
  for (let i = 0; i < 600; i += 1) {
    if (so()) return
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  throw new Error(`waited a minute for ${what}`)
}

/** Waits until no mail has come for three seconds: what is told then is not told in ignorance of what was just said. */
async function quiet(): Promise<void> {
  let [count, since] = [-1, Date.now()]
  await until("quiet", () => {
    if (smtp.taken.length !== count) [count, since] = [smtp.taken.length, Date.now()]
    return Date.now() - since > 3_000
  })
}

async function weeklyMail(taken: readonly TakenMail[]): Promise<ParsedMail> {
  const mine = taken.filter(({ to, raw }) => to.includes("ines@example.org") && /text\/html/.test(raw.toString()))
  return simpleParser(mine.at(-1)?.raw ?? "")
}

type Cut = { x: number; y: number; width: number; height: number }

/** A part of a page as a PNG of at most 256 colours: a third of the bytes. */
async function picture(page: Page, name: string, clip: Cut): Promise<void> {
  const shot = await page.screenshot({ clip, fullPage: true })
  await page.setContent("<canvas></canvas>")
  const [w, h, pixels] = (await page.evaluate(`(async () => {
    const bytes = Uint8Array.from(atob("${shot.toString("base64")}"), (c) => c.charCodeAt(0))
    const image = await createImageBitmap(new Blob([bytes], { type: "image/png" }))
    const canvas = new OffscreenCanvas(image.width, image.height).getContext("2d")
    canvas.drawImage(image, 0, 0)
    const { data } = canvas.getImageData(0, 0, image.width, image.height)
    let text = ""
    for (let i = 0; i < data.length; i += 30000) text += String.fromCharCode(...data.subarray(i, i + 30000))
    return [image.width, image.height, btoa(text)]
  })()`)) as [number, number, string]
  const png = palettePng(Buffer.from(pixels, "base64"), w, h)
  writeFileSync(join(FOLDER, name), png)
  console.log(`${join(FOLDER, name)}: ${w} x ${h}, ${Math.round(png.length / 1024)} kB`)
}

let running: Bot | null = null
try {
  for (const [clock, texts] of TOLD) {
    running = await startAt(clock)
    await quiet()
    for (const text of texts) {
      const { text: said } = running
      const before = said().length
      running.type(`ines: ${text}`)
      await until(`an answer to "${text}"`, () => /UNDO/.test(said().slice(before)))
    }
    await running.stop()
  }
  const before = smtp.taken.length
  running = await startAt(SUNDAY)
  await until("the weekly mail", () =>
    smtp.taken
      .slice(before)
      .some(({ to, raw }) => to.includes("ines@example.org") && /text\/html/.test(raw.toString())),
  )
  const mail = await weeklyMail(smtp.taken)
  const season = /Season page of Ines: (\S+)/.exec(running.text())?.[1] as string
  if (!existsSync(FOLDER)) mkdirSync(FOLDER, { recursive: true })
  const browser = await openBrowser()
  try {
    const page = await browser.newPage({ viewport: { width: 760, height: 900 }, bypassCSP: true })
    await page.goto(season)
    const section = (await page.locator("section[aria-labelledby=season-h]").boundingBox()) as Cut
    await picture(page, "season-page.png", {
      ...section,
      x: 0,
      y: section.y - 8,
      width: 760,
      height: section.height + 8,
    })
    await page.setViewportSize({ width: 640, height: 900 })
    await page.setContent(mail.html || "", { waitUntil: "load" })
    const ahead = (await page.locator("h2", { hasText: "Every bed" }).boundingBox()) as Cut
    await picture(page, "weekly-mail.png", { x: 0, y: 0, width: 640, height: Math.round(ahead.y) - 8 })
  } finally {
    await browser.close()
  }
} finally {
  await running?.stop()
  await smtp.close()
  rmSync(data, { recursive: true, force: true })
}
