import { stopPage, stoppedPage } from "../wording/season-page-frame.ts"
import { whoOpens } from "./door.ts"
import type { App, WebNeeds } from "./needs.ts"

/**
 * Ending the weekly mail (RFC 8058): GET shows a button and changes nothing, since mail filters open every link; POST ends
 * it. Mail programs post from anywhere and without a page of ours, so the link alone decides.
 */
export function unsubscribeRoutes(app: App, needs: WebNeeds): void {
  app.get("/mail/:token/stop", async (c) => {
    const who = await whoOpens("stop", c.req.param("token"), needs)
    const mail = who && (await needs.mailOf(who))
    return mail ? c.html(stopPage(mail.garden)) : c.notFound()
  })
  app.post("/mail/:token/stop", async (c) => {
    const who = await whoOpens("stop", c.req.param("token"), needs)
    const mail = who && (await needs.mailOf(who))
    if (!who || !mail) return c.notFound()
    await needs.stopMail(who)
    return c.html(stoppedPage(mail.garden))
  })
}
