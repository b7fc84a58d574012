import { organiserPage } from "../wording/organiser-page.ts"
import { whoOpens } from "./door.ts"
import type { App, WebNeeds } from "./needs.ts"

/**
 * `GET /organiser/TOKEN`: how people of a club are reached and which cuts are overdue. Whether the link's person is still the
 * organiser is asked anew at each visit: whoever was, sees nothing any more.
 */
export function organiserRoutes(app: App, needs: WebNeeds): void {
  app.get("/organiser/:token", async (c) => {
    const who = await whoOpens("organiser", c.req.param("token"), needs)
    const overview = who && (await needs.overview?.(who))
    return overview ? c.html(organiserPage(overview)) : c.notFound()
  })
}
