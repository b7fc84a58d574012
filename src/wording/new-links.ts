import type { Garden } from "../garden/garden.ts"
import type { DigestLinks } from "./digest-facts.ts"
import { oneLine } from "./html.ts"

/** The mail that brings a person new links, once the older ones have ended. */
export function newLinksMail(garden: Pick<Garden, "name">, links: DigestLinks): { subject: string; text: string } {
  const place = oneLine(garden.name)
  return {
    subject: `Your new links for ${place}`,
    text: `You asked for new links. The older ones to your season page and your calendar open nothing any more.

Season page:
${links.season}

Calendar feed, to subscribe to in place of the older one:
${links.calendar}

Keep them to yourself: whoever has the season page's link can read it and press its buttons.
`,
  }
}

/** The same in one text. */
export function newLinksText(links: DigestLinks): string {
  return `Your new Ryebell page: ${links.season} Older links have ended.`
}

/** Words without what opens a page: the log is read and handed on by many hands. */
export function withoutTokens(text: string): string {
  return text.replace(/\/(season|calendar|mail|organiser)\/[A-Za-z0-9_-]+\.[A-Za-z0-9_-]+/g, "/$1/***")
}
