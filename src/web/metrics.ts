import type { App, Metric, WebNeeds } from "./needs.ts"

/** Addresses of this machine and of private networks (RFC 1918, RFC 4193, loopback), also as IPv6 writes IPv4. */
const NEAR = /^(?:::ffff:)?(?:127\.|10\.|192\.168\.|172\.(?:1[6-9]|2\d|3[01])\.)|^::1$|^f[cd][0-9a-f]{2}:/i
/** What a proxy adds to a request from outside. */
const FORWARDED = ["forwarded", "x-forwarded-for", "x-real-ip", "via"]

/**
 * `GET /metrics`: figures in the text format of Prometheus (0.0.4), for a monitor on this machine or its private network. A
 * request that came through a proxy from outside is told that there is nothing: figures say how many use the service.
 */
export function metricsRoute(app: App, needs: WebNeeds): void {
  app.get("/metrics", async (c) => {
    const address = c.env?.incoming?.socket?.remoteAddress
    const isNear = address !== undefined && NEAR.test(address)
    if (!needs.metrics || !isNear || FORWARDED.some((name) => c.req.header(name) !== undefined)) return c.notFound()
    try {
      return c.body(metricsText(await needs.metrics()), 200, {
        "content-type": "text/plain; version=0.0.4; charset=utf-8",
      })
    } catch (error) {
      needs.failed?.(error)
      return c.body(null, 503)
    }
  })
}

/** Figures as the format writes them. */
export function metricsText(metrics: readonly Metric[]): string {
  return metrics
    .filter((metric) => metric.values.length > 0)
    .map(({ name, help, is, values }) => {
      const lines = values.map(
        ({ labels, value }) => `${name}${labelsText(labels)} ${Number.isFinite(value) ? value : "NaN"}`,
      )
      return `# HELP ${name} ${help.replaceAll("\\", "\\\\").replaceAll("\n", "\\n")}\n# TYPE ${name} ${is}\n${lines.join("\n")}\n`
    })
    .join("")
}

function labelsText(labels: Record<string, string> | undefined): string {
  const pairs = Object.entries(labels ?? {}).map(
    ([name, value]) => `${name}="${value.replaceAll("\\", "\\\\").replaceAll('"', '\\"').replaceAll("\n", "\\n")}"`,
  )
  return pairs.length === 0 ? "" : `{${pairs.join(",")}}`
}
