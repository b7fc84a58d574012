import { createHash } from "node:crypto"
import type { Context } from "hono"
import type { Incoming } from "../bot/needs.ts"
import type { Reminder } from "../reminders/reminder.ts"
import { asDay, type Day, daysBetween } from "../values/day.ts"
import { instantText } from "../values/instant.ts"
import { bedPage, logPage, onePage, seasonPage } from "../wording/season-page.ts"
import { newLinksPage, notKeptPage, refusedPage } from "../wording/season-page-frame.ts"
import { undoable } from "../wording/season-page-log.ts"
import { pressesFor, pressText } from "../wording/season-page-press.ts"
import type { SeasonPaths, SeasonView } from "../wording/season-page-view.ts"
import { whoOpens } from "./door.ts"
import { formMark, isFormMark, type LinkClaim, linksFor } from "./link.ts"
import type { App, WebNeeds } from "./needs.ts"
import { isOwnForm } from "./origin.ts"

/** A note is as long as a long text; the rest would be somebody's mistake. */
const MOST_LETTERS = 1600
/** Pictures that are handed out; anything else stays in its folder. */
const PICTURES = new Set(["image/jpeg", "image/png", "image/webp", "image/gif"])

type Opened = { who: LinkClaim; view: SeasonView; paths: SeasonPaths; token: string }

/** The season page and its forms. GET and HEAD only show; every change is a POST that goes through `receive`. */
export function seasonRoutes(app: App, needs: WebNeeds): void {
  const page = (path: string, show: (opened: Opened, c: Context) => string | null) =>
    app.get(`/season/:token${path}`, async (c) => {
      const opened = await open(c, needs)
      const shown = opened && show(opened, c)
      return shown ? c.html(shown) : c.notFound()
    })
  page("", ({ view, paths }, c) => seasonPage(view, paths, Number.parseInt(c.req.query("beds") ?? "1", 10) || 1))
  page("/log", ({ view, paths }) => logPage(view, paths))
  page("/bed/:bed", ({ view, paths }, c) => bedPage(view, paths, c.req.param("bed") ?? ""))
  page("/do/:reminder", ({ view, paths }, c) => onePage(view, paths, c.req.param("reminder") ?? ""))

  app.get("/season/:token/photo/:name", async (c) => {
    const opened = await open(c, needs)
    const name = c.req.param("name")
    const known = opened?.view.entries.some((each) => each.kind === "reply" && each.photos?.includes(name))
    const photo = opened && known ? await needs.photo(opened.who, name) : null
    if (!photo || !PICTURES.has(photo.type)) return c.notFound()
    return c.body(photo.bytes, 200, {
      "content-type": photo.type,
      "content-disposition": "inline",
      "cache-control": "private, max-age=86400",
    })
  })

  const form = (path: string, act: (opened: Opened, fields: Map<string, string>, c: Context) => Promise<Response>) =>
    app.post(`/season/:token${path}`, async (c) => {
      const opened = await open(c, needs)
      if (!opened) return c.notFound()
      const fields = await fieldsOf(c)
      if (!isOurs(c, needs) || !isFormMark(fields.get("form") ?? "", opened.token, needs.secrets))
        return c.html(refusedPage(opened.paths.base), 403)
      return act(opened, fields, c)
    })
  const reply = (path: string, words: (opened: Opened, fields: Map<string, string>) => Pressed | null) =>
    form(path, async (opened, fields, c) => {
      const pressed = words(opened, fields)
      if (!pressed) return c.html(refusedPage(opened.paths.base), 409)
      try {
        await needs.receive(incomingOf(opened, pressed, fields, needs))
      } catch (error) {
        needs.failed?.(error)
        return c.html(notKeptPage(opened.paths.base), 503)
      }
      // See the page afresh, so that reloading it sends nothing again.
      return c.redirect(`${opened.paths.base}#said`, 303)
    })
  reply("/press", pressed)
  reply("/note", (_, fields) => {
    const text = (fields.get("text") ?? "").trim().slice(0, MOST_LETTERS)
    return text === "" ? null : { text, about: {} }
  })
  reply("/undo", ({ view }, fields) => {
    const seq = undoable(view)
    // Only what the page showed: if something newer came in between, UNDO would take that back instead.
    return seq !== null && String(seq) === fields.get("seq") ? { text: "UNDO", about: { undo: String(seq) } } : null
  })
  form("/renew", async ({ who, paths }, _, c) => {
    const way = await needs.renewLinks(who)
    return c.html(newLinksPage(way, paths.base), way ? 200 : 409)
  })
}

/** Words for the bot, and what they are about, for whoever can use it. */
type Pressed = { text: string; about: Record<string, string> }

function pressed({ view }: Opened, fields: Map<string, string>): Pressed | null {
  const reminder = view.reminders.find((each) => each.id === fields.get("reminder") && each.person === view.person.id)
  const press =
    reminder && pressesFor(reminder, view.numberOf(reminder.id)).find((each) => each.word === fields.get("word"))
  if (!reminder || !press) return null
  const until = press.word === "SNOOZE" ? dayNear(fields.get("until"), view.on, 0, 400) : null
  const day = press.word === "SNOOZE" ? null : dayNear(fields.get("day"), view.on, -400, 0)
  if (until === "wrong" || day === "wrong") return null
  const n = view.numberOf(reminder.id)
  const text = pressText({ word: press.word, reminder, n, until, day }, view.garden, view.on)
  if (text === null) return null
  return {
    text,
    about: aboutOf(reminder, press.word, until, day),
  }
}

function aboutOf(reminder: Reminder, word: string, until: Day | null, day: Day | null): Record<string, string> {
  return { reminder: reminder.id, word, ...(until ? { until } : {}), ...(day ? { day } : {}) }
}

/** A day out of a form: null where none was given, `wrong` where it is none or lies too far off. */
function dayNear(text: string | undefined, on: Day, from: number, to: number): Day | null | "wrong" {
  if (text === undefined || text === "") return null
  const day = asDay(text)
  if (!day) return "wrong"
  const off = daysBetween(on, day)
  return off >= from && off <= to ? day : "wrong"
}

function incomingOf(
  { who, view, token }: Opened,
  { text, about }: Pressed,
  fields: Map<string, string>,
  needs: WebNeeds,
): Incoming {
  const at = needs.now()
  // The same press on the same page is the same message, however often it is sent: it counts once.
  const mark = [token, text, JSON.stringify(about), fields.get("seen") ?? ""].join("\n")
  return {
    id: `web-${createHash("sha256").update(mark).digest("hex").slice(0, 32)}`,
    via: "web",
    from: `${who.garden}/${who.person}`,
    to: view.garden.id,
    text,
    at,
    media: [],
    extra: { ...about, sent: instantText(at) },
  }
}

async function open(c: Context, needs: WebNeeds): Promise<Opened | null> {
  const token = c.req.param("token") ?? ""
  const who = await whoOpens("season", token, needs)
  const view = who && (await needs.season(who))
  if (!who || !view) return null
  const base = `${pathPrefix(needs)}/season/${token}`
  const calendar = new URL(linksFor(needs.publicUrl ?? "http://localhost", who, who.made, needs.secrets).calendar)
    .pathname
  return { who, view, token, paths: { base, calendar, form: formMark(token, needs.secrets) } }
}

/** Where the public address has a path of its own, links on the page begin with it. */
function pathPrefix({ publicUrl }: WebNeeds): string {
  return publicUrl ? new URL(publicUrl).pathname.replace(/\/+$/, "") : ""
}

function isOurs(c: Context, { publicUrl }: WebNeeds): boolean {
  const own = [new URL(c.req.url).origin, ...(publicUrl ? [new URL(publicUrl).origin] : [])]
  return isOwnForm({ origin: c.req.header("origin"), site: c.req.header("sec-fetch-site") }, own)
}

/** The words of a form; files and repeated fields count for nothing. */
async function fieldsOf(c: Context): Promise<Map<string, string>> {
  const type = c.req.header("content-type") ?? ""
  if (!type.startsWith("application/x-www-form-urlencoded")) return new Map()
  return new Map(new URLSearchParams(await c.req.text()))
}
