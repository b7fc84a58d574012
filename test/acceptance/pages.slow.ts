import { spawnSync } from "node:child_process"
import { mkdirSync, readFileSync } from "node:fs"
import { createRequire } from "node:module"
import { join } from "node:path"
import type { Browser, BrowserContext, Page } from "playwright-core"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { chartPng } from "../../src/channels/chart-png.ts"
import { addDays } from "../../src/values/day.ts"
import { instant } from "../../src/values/instant.ts"
import { startWeb, type Web } from "../../src/web/server.ts"
import { calendarEvents, calendarText, reviseEvents } from "../../src/wording/calendar.ts"
import { DIGEST_PICTURE, digest } from "../../src/wording/digest.ts"
import { seasonPage } from "../../src/wording/season-page.ts"
import { yearSummaryPage } from "../../src/wording/year-summary-page.ts"
import { NOW, pages } from "../web/pages.ts"
import {
  BEDS,
  ENTRIES,
  garden,
  manyBeds,
  namesOnly,
  ON,
  person,
  plan,
  REMINDERS,
  weather,
} from "../wording/long-acre.ts"
import { PAYLOADS } from "../wording/payloads.ts"
import { shown } from "../wording/shown.ts"
import { CHROMIUM, openBrowser, overhang, WHY_SKIPPED } from "./browser.ts"

/** Folder to keep pictures of what was checked in, for those who want to look; none are kept without it. */
const PICTURES = process.env.PICTURES_TO

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8")
const WIDTHS = [320, 360, 768, 1280]
const THEMES = ["light", "dark"] as const

const input = {
  garden: garden(BEDS),
  handbook: namesOnly(),
  person: person("ines"),
  on: ON,
  plan: plan(),
  reminders: REMINDERS,
  entries: ENTRIES,
  weather: weather(),
  links: {
    season: "http://127.0.0.1/season/TOKEN",
    calendar: "http://127.0.0.1/calendar/TOKEN.ics",
    stop: "http://127.0.0.1/mail/TOKEN/stop",
  },
  numberOf: () => 2,
}

/** A mail as a program shows it: its picture stands where its content id is named. */
function shownMail(over: Partial<typeof input> = {}): string {
  const mail = digest({ ...input, ...over })
  return mail.html.replaceAll(`cid:${DIGEST_PICTURE}`, `data:image/png;base64,${chartPng(mail.svg).toString("base64")}`)
}

const PATHS = { base: "/season/TOKEN", calendar: null, form: "MARK" }

const comparison = {
  bed: "south",
  sowing: "south:2025-09-20",
  year: 2026,
  cover: "vetch and rye",
  what: "first flower" as const,
  species: "rye",
  predicted: { early: addDays(ON, -3), likely: ON, late: addDays(ON, 6), knownOn: addDays(ON, -28) },
  seen: addDays(ON, 2),
  off: 2,
  inside: true,
}

if (!CHROMIUM) console.log(`Skipping the checks in a browser: ${WHY_SKIPPED}.`)

describe.skipIf(!CHROMIUM)("pages and mail in a browser", () => {
  let browser: Browser
  let web: Web
  const setup = pages({}, { now: NOW })
  const address = (rest = "") => `${web.url}${new URL(setup.links().season).pathname}${rest}`

  beforeAll(async () => {
    browser = await openBrowser()
    web = await startWeb(setup.needs)
    if (PICTURES) mkdirSync(PICTURES, { recursive: true })
  })
  afterAll(async () => {
    await browser?.close()
    await web?.close()
  })

  const many = manyBeds(40)
  const served: Record<string, () => string> = {
    season: () => address(),
    bed: () => address("/bed/south"),
    thing: () => address(`/do/${encodeURIComponent("south:2025-09-20:cut:1")}`),
    log: () => address("/log"),
    stop: () => `${web.url}${new URL(setup.links().stop).pathname}`,
    gone: () => `${web.url}/nowhere`,
  }
  const written: Record<string, () => string> = {
    mail: () => shownMail(),
    "quiet mail": () => shownMail({ reminders: [] }),
    "mail of forty beds": () => shownMail({ garden: garden(many.beds), plan: many.plan, reminders: many.reminders }),
    "ten beds": () => seasonPage({ ...setup.view(), garden: garden(many.beds), plan: many.plan }, PATHS),
    year: () => yearSummaryPage(garden(BEDS), 2026, [comparison, { ...comparison, year: 2025 }]),
  }

  async function show(page: Page, name: string): Promise<void> {
    const at = served[name]
    if (at) await page.goto(at())
    else await page.setContent((written[name] as () => string)(), { waitUntil: "load" })
  }

  for (const theme of THEMES) {
    for (const width of WIDTHS) {
      it.each([...Object.keys(served), ...Object.keys(written)])(
        `fit into ${width} px and break no rule of WCAG 2.2 AA in ${theme}: %s`,
        async (name) => {
          const context = await browser.newContext({
            viewport: { width, height: 900 },
            colorScheme: theme,
            bypassCSP: true,
          })
          try {
            const page = await context.newPage()
            const outside: string[] = []
            page.on("request", (request) => {
              if (!/^(data:|about:)/.test(request.url()) && !request.url().startsWith(web.url))
                outside.push(request.url())
            })
            await show(page, name)
            if (PICTURES)
              await page.screenshot({ path: join(PICTURES, `${name}-${width}-${theme}.png`), fullPage: true })
            expect(await overhang(page)).toBeLessThanOrEqual(0)
            await page.addScriptTag({ content: axe })
            const result = (await page.evaluate(
              `axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], rules: { "target-size": { enabled: true } } })`,
            )) as { violations: { id: string; nodes: { html: string }[] }[]; passes: unknown[] }
            expect(result.violations.map((each) => `${each.id}: ${each.nodes[0]?.html}`)).toEqual([])
            expect(result.passes.length).toBeGreaterThan(5)
            expect(outside).toEqual([])
          } finally {
            await context.close()
          }
        },
      )
    }
  }

  it("have buttons and fields of 44 px at least", async () => {
    const context = await browser.newContext({ viewport: { width: 360, height: 800 } })
    const page = await context.newPage()
    for (const name of ["season", "thing"]) {
      await show(page, name)
      const boxes = await page.locator("button, select, input:not([type=hidden]), textarea").evaluateAll((all) => {
        return all.map((each) => [
          each.outerHTML.slice(0, 80),
          each.getBoundingClientRect().height,
          each.getBoundingClientRect().width,
        ])
      })
      expect(boxes.length).toBeGreaterThan(3)
      expect(boxes.filter(([, height, w]) => Number(height) < 44 || Number(w) < 44)).toEqual([])
    }
    await context.close()
  })

  /** Presses keys until the focus is on something of that name; every stop on the way must be seen. */
  async function tabTo(page: Page, name: string): Promise<void> {
    for (let i = 0; i < 80; i += 1) {
      await page.keyboard.press("Tab")
      const [label, outline] = (await page.evaluate(`(() => {
        const at = document.activeElement
        return [at.getAttribute("aria-label") || at.textContent.trim(), getComputedStyle(at).outlineStyle + getComputedStyle(at).outlineWidth]
      })()`)) as [string, string]
      expect(outline).toBe("solid3px")
      if (label === name) return
    }
    throw new Error(`no way by keyboard to ${name}`)
  }

  async function flow(context: BrowserContext, base: string): Promise<void> {
    const before = setup.received.length
    const page = await context.newPage()
    await page.goto(`${base}${new URL(setup.links().season).pathname}`)
    await tabTo(page, "It is up: see whether Kitchen bed is up")
    await page.keyboard.press("Enter")
    await page.waitForURL(/#said$/)
    expect(await page.getByRole("status").textContent()).toBe("Noted: UP 2")
    await tabTo(page, "Snooze: cut South bed, best by about 22 May")
    await page.keyboard.press("Space")
    await page.getByText("Noted: SNOOZE 3 to 11 May").first().waitFor()
    await page.getByLabel("In your own words, as in a text").focus()
    await page.keyboard.type("first purple on south")
    await tabTo(page, "Send")
    await page.keyboard.press("Enter")
    await page.getByText("Noted: first purple on south").first().waitFor()
    expect(setup.received.slice(before).map((each) => each.text)).toEqual([
      "UP 2",
      "SNOOZE 3 to 11 May",
      "first purple on south",
    ])
    await context.close()
  }

  it("are used by keyboard alone, with JavaScript off", async () => {
    await flow(await browser.newContext({ javaScriptEnabled: true, viewport: { width: 768, height: 900 } }), web.url)
    const context = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 360, height: 800 } })
    const page = await context.newPage()
    await page.goto(address())
    await page.getByRole("button", { name: "Saw it: first bloom" }).click()
    await page.waitForURL(/#said$/)
    expect(setup.received.at(-1)?.text).toBe("BLOOM 1")
    await context.close()
  })

  it("are used over plain http in a home network too, where browsers name no origin", async () => {
    const context = await browser.newContext({ javaScriptEnabled: false })
    const page = await context.newPage()
    const headers: Record<string, string>[] = []
    page.on("request", (request) => {
      if (request.method() === "POST") void request.allHeaders().then((all) => headers.push(all))
    })
    await page.goto(`http://garden.test:${web.port}${new URL(setup.links().season).pathname}`)
    await page.getByRole("button", { name: "Patchy" }).click()
    await page.waitForURL(/#said$/)
    expect(setup.received.at(-1)?.text).toBe("PATCHY 2")
    expect(headers[0]?.origin).toBe("null")
    await context.close()
  })

  it("refuse a form that another site sends", async () => {
    const context = await browser.newContext()
    const page = await context.newPage()
    await page.goto(address())
    const form = await page.locator('input[name="form"]').first().inputValue()
    const before = setup.received.length
    await page.goto("about:blank")
    await page.setContent(
      `<form method="post" action="${address("/note")}"><input name="form" value="${form}"><input name="text" value="cut everything"><button>go</button></form>`,
    )
    await Promise.all([
      page.waitForResponse((answer) => answer.request().method() === "POST"),
      page.getByText("go").click(),
    ])
    expect(setup.received.length).toBe(before)
    await context.close()
  })

  it("run nothing of sixty payloads in names, beds, texts and weather, and grow no element from them (failure X11)", async () => {
    const context = await browser.newContext()
    const page = await context.newPage()
    const ran: string[] = []
    page.on("dialog", async (dialog) => {
      ran.push(dialog.message())
      await dialog.dismiss()
    })
    const count = async (html: string) => {
      await page.setContent(html, { waitUntil: "domcontentloaded" })
      return page.evaluate("document.querySelectorAll('*').length")
    }
    const plain = shown("word")
    const counts: Record<string, unknown> = {}
    for (const [name, html] of Object.entries(plain)) counts[name] = await count(html)
    for (const payload of PAYLOADS)
      for (const [name, html] of Object.entries(shown(payload)))
        expect({ payload, name, count: await count(html) }).toEqual({ payload, name, count: counts[name] })
    expect(ran).toEqual([])
    await context.close()
  })

  it("print on one sheet, season and year", async () => {
    const context = await browser.newContext()
    const page = await context.newPage()
    for (const [name, format] of [
      ["season", "A4"],
      ["season", "Letter"],
      ["year", "A4"],
      ["ten beds", "Letter"],
    ] as const) {
      await show(page, name)
      const pdf = await page.pdf({
        format,
        preferCSSPageSize: false,
        ...(PICTURES ? { path: join(PICTURES, `${name}-${format}.pdf`) } : {}),
      })
      expect(pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)).toHaveLength(1)
    }
    await context.close()
  })
})

const PYTHON = ["/usr/bin/python3", "python3"].find((each) => spawnSync(each, ["-c", "import icalendar"]).status === 0)
if (!PYTHON)
  console.log("Skipping the second reader of the feed: there is no Python with the icalendar library on this machine.")

describe.skipIf(!PYTHON)("the feed, read by Python's icalendar", () => {
  it("holds every event on its own days, end exclusive", () => {
    const events = calendarEvents(plan(), garden(BEDS), namesOnly(), person("ines"))
    const text = calendarText("Long Acre season", reviseEvents(events, {}, instant("2026-05-10T04:00:00Z")).events)
    const program = `
import sys, json, icalendar
c = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
print(json.dumps([[str(e["uid"]), e.decoded("dtstart").isoformat(), e.decoded("dtend").isoformat(), str(e["summary"]), int(e["sequence"]), len(e.subcomponents)] for e in c.walk("vevent")]))`
    const ran = spawnSync(PYTHON as string, ["-c", program], { input: text, encoding: "utf8" })
    expect(ran.stderr).toBe("")
    expect(JSON.parse(ran.stdout)).toEqual(
      events.map((each) => [each.uid, each.from, addDays(each.to, 1), each.summary, 0, 0]),
    )
  })
})
