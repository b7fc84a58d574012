import { createHash } from "node:crypto"
import type { Server } from "node:http"
import type { AddressInfo } from "node:net"
import { serve } from "@hono/node-server"
import { Hono } from "hono"
import { bodyLimit } from "hono/body-limit"
import { secureHeaders } from "hono/secure-headers"
import { notFoundPage, PAGE_CSS, refusedPage, slowDownPage } from "../wording/season-page-frame.ts"
import { calendarRoute } from "./calendar-route.ts"
import { healthRoute } from "./health.ts"
import { metricsRoute } from "./metrics.ts"
import { countMisses } from "./misses.ts"
import type { App, WebNeeds } from "./needs.ts"
import { organiserRoutes } from "./organiser-routes.ts"
import { seasonRoutes } from "./season-routes.ts"
import { unsubscribeRoutes } from "./unsubscribe.ts"

/** A form is words and a few marks; no request of ours is larger. */
const MOST_BYTES = 64 * 1024

/** The policy of every page: its own style sheet, its own pictures and forms; nothing else, and no script at all. */
const STYLE_HASH = `'sha256-${createHash("sha256").update(PAGE_CSS).digest("base64")}'`

export type Web = { url: string; port: number; close(): Promise<void> }

/** Where to listen; port 0 takes any that is free. */
type Place = Pick<WebNeeds, "host" | "port">

/** Starts the web server. Rejects where the address cannot be had. */
export function startWeb(needs: WebNeeds): Promise<Web> {
  return listen(webApp(needs), needs)
}

/**
 * Starts a web server that says why nothing is done (`GET /health`) and turns everything else away for now (503): a carrier
 * then knows that its message was not taken, and has it in its list later.
 */
export function startClosedWeb(needs: Place & Pick<WebNeeds, "health" | "failed">): Promise<Web> {
  const app: App = new Hono()
  app.use(secureHeaders())
  healthRoute(app, needs)
  app.all("*", (c) => c.text("Out of order for now. The owner has to look at it.", 503, { "retry-after": "3600" }))
  return listen(app, needs)
}

function listen(app: App, needs: Place): Promise<Web> {
  return new Promise((resolve, reject) => {
    const server = serve({ fetch: app.fetch, hostname: needs.host, port: needs.port }) as Server
    // Nobody may hold a connection open by sending slowly.
    server.requestTimeout = 30_000
    server.headersTimeout = 15_000
    server.once("error", reject)
    server.once("listening", () => {
      const { port } = server.address() as AddressInfo
      const host = needs.host.includes(":") ? `[${needs.host}]` : needs.host
      resolve({ url: `http://${host}:${port}`, port, close: () => closed(server) })
    })
  })
}

/** The routes, without a server: what `startWeb` serves. */
export function webApp(needs: WebNeeds): App {
  const app: App = new Hono()
  const misses = countMisses()
  app.use(async (c, next) => {
    const before = needs.now()
    await next()
    needs.log?.({
      method: c.req.method,
      path: withoutToken(c.req.path),
      status: c.res.status,
      ms: needs.now() - before,
    })
  })
  app.use(
    secureHeaders({
      contentSecurityPolicy: {
        defaultSrc: ["'none'"],
        styleSrc: [STYLE_HASH],
        imgSrc: ["'self'"],
        formAction: ["'self'"],
        baseUri: ["'none'"],
        frameAncestors: ["'none'"],
      },
      referrerPolicy: "no-referrer",
      xFrameOptions: "DENY",
      permissionsPolicy: { camera: [], microphone: [], geolocation: [], payment: [], usb: [] },
    }),
  )
  app.use(bodyLimit({ maxSize: MOST_BYTES, onError: (c) => c.html(refusedPage(null), 413) }))
  app.use(async (c, next) => {
    await next()
    // Pages hold private notes: no cache keeps them, unless a route says how.
    if (!c.res.headers.has("cache-control")) c.res.headers.set("cache-control", "no-store")
  })
  // Browsers ask for it beside every page; that is no miss.
  app.get("/favicon.ico", (c) => c.body(null, 204, { "cache-control": "max-age=86400" }))
  healthRoute(app, needs)
  metricsRoute(app, needs)
  seasonRoutes(app, needs)
  calendarRoute(app, needs)
  unsubscribeRoutes(app, needs)
  organiserRoutes(app, needs)
  needs.more?.(app)
  app.notFound((c) => {
    const address = c.env?.incoming?.socket?.remoteAddress ?? "unknown"
    if (misses.miss(address, needs.now()) === "too many") return c.html(slowDownPage(), 429, { "retry-after": "60" })
    return c.html(notFoundPage(), 404)
  })
  app.onError((error, c) => {
    needs.log?.({ method: c.req.method, path: withoutToken(c.req.path), status: 500, ms: 0 })
    needs.failed?.(error)
    return c.html(refusedPage(null), 500)
  })
  return app
}

/** A path as it may be logged: what may be a token is struck out. */
export function withoutToken(path: string): string {
  return path.replace(/^\/(season|calendar|mail|organiser)\/[^/]*/, "/$1/***").slice(0, 200)
}

function closed(server: Server): Promise<void> {
  return new Promise((resolve, reject) => {
    server.close((error) => (error ? reject(error) : resolve()))
    server.closeIdleConnections()
    // Whoever is still being served has a moment to finish.
    setTimeout(() => server.closeAllConnections(), 2_000).unref()
  })
}
