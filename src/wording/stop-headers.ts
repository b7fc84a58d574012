import type { DigestLinks } from "./digest-facts.ts"

/**
 * How mail programs end our mails: by one press (RFC 8058) and by a mail (RFC 2369). The one place for these headers; every
 * mail that nobody asked for at that moment carries them. One press is only promised where an address takes it.
 */
export function stopHeaders(
  links: Pick<DigestLinks, "stop"> | null,
  stopAddress: string | null,
): Record<string, string> {
  const ways = [...(links ? [`<${links.stop}>`] : []), ...(stopAddress ? [`<mailto:${stopAddress}?subject=stop>`] : [])]
  return {
    ...(ways.length > 0 ? { "List-Unsubscribe": ways.join(", ") } : {}),
    ...(links ? { "List-Unsubscribe-Post": "List-Unsubscribe=One-Click" } : {}),
  }
}
