import { existsSync } from "node:fs"
import { type Browser, chromium, type Page } from "playwright-core"

/** Where Debian and others put Chromium. */
const PLACES = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"]

/** The browser of this machine; null where there is none: then the checks that need one are skipped, and say so. */
export const CHROMIUM = PLACES.find((each) => existsSync(each)) ?? null

export const WHY_SKIPPED = `there is no Chromium on this machine (looked for it at ${PLACES.join(", ")})`

export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: CHROMIUM ?? "",
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      // A name that is not loopback: browsers trust it less, and send fewer headers to it.
      "--host-resolver-rules=MAP garden.test 127.0.0.1",
    ],
  })
}

/** How far a page is wider than its window, in pixels. */
export function overhang(page: Page): Promise<number> {
  return page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
}
