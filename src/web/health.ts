import type { App, WebNeeds } from "./needs.ts"

/** `GET /health`: 200 where all is well, 503 where not; what it says comes from those who know. */
export function healthRoute(app: App, needs: Pick<WebNeeds, "health" | "failed">): void {
  app.get("/health", async (c) => {
    try {
      const health = await needs.health()
      return c.json(health, health.ok ? 200 : 503)
    } catch (error) {
      needs.failed?.(error)
      return c.json({ ok: false, error: "health could not be read" }, 503)
    }
  })
}
