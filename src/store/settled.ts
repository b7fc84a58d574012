import { withoutTokens } from "../wording/new-links.ts"

/**
 * A mail that is at an end keeps its words and what it told, for whoever asks later. What only its sending needed goes: HTML,
 * pictures and headers, which would fill the disk over the years, and the links in it, which open pages (failure X7).
 * null: nothing is to go.
 */
export function settledBody(body: string): string | null {
  const { html, enclosures, headers, ...rest } = JSON.parse(body)
  if (rest.channel !== "mail") return null
  const text = withoutTokens(String(rest.text))
  if (html === undefined && enclosures === undefined && headers === undefined && text === rest.text) return null
  return JSON.stringify({ ...rest, text })
}
