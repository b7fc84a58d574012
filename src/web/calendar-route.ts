import { createHash } from "node:crypto"
import { calendarText } from "../wording/calendar.ts"
import { whoOpens } from "./door.ts"
import type { App, WebNeeds } from "./needs.ts"

/** `GET /calendar/TOKEN.ics`: the feed, with an ETag, so that programs that ask every hour get 304 most of the time. */
export function calendarRoute(app: App, needs: WebNeeds): void {
  app.get("/calendar/:file", async (c) => {
    const file = c.req.param("file")
    const who = file.endsWith(".ics") ? await whoOpens("calendar", file.slice(0, -4), needs) : null
    const view = who && (await needs.calendar(who))
    if (!view) return c.notFound()
    const text = calendarText(view.name, view.events)
    const etag = `"${createHash("sha256").update(text).digest("base64url").slice(0, 27)}"`
    const headers = { etag, "cache-control": "private, no-cache" }
    if (matches(c.req.header("if-none-match"), etag)) return c.body(null, 304, headers)
    return c.body(text, 200, {
      ...headers,
      "content-type": "text/calendar; charset=utf-8",
      "content-disposition": 'inline; filename="season.ics"',
    })
  })
}

/** RFC 9110, 13.1.2: weak comparison against any of a list, or `*`. */
function matches(given: string | undefined, etag: string): boolean {
  if (!given) return false
  return given.split(",").some((each) => each.trim() === "*" || each.trim().replace(/^W\//, "") === etag)
}
