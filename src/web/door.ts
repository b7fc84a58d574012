import type { Day } from "../values/day.ts"
import type { Instant } from "../values/instant.ts"
import { localDay, zone } from "../values/zone.ts"
import { type LinkClaim, readLink, type Scope } from "./link.ts"
import type { WebNeeds } from "./needs.ts"

const UTC = zone("UTC")

/** Whom a link lets in; null for whatever is wrong with it, be it forged, run out, renewed or for another page. */
export async function whoOpens(scope: Scope, token: string, needs: WebNeeds): Promise<LinkClaim | null> {
  const claim = readLink(scope, token, today(needs.now()), needs.secrets)
  if (!claim) return null
  const generation = needs.generation ? await needs.generation(claim) : 0
  return claim.generation === generation ? claim : null
}

/** Links are dated in UTC: to the day is near enough for something that lives for weeks. */
export function today(now: Instant): Day {
  return localDay(now, UTC)
}
