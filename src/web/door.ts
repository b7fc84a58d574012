import { type LinkClaim, readLink, type Scope } from "./link.ts"
import type { WebNeeds } from "./needs.ts"

/**
 * Whom a link lets in; null for whatever is wrong with it, be it forged, run out, older than the person's newest links or
 * for another page. Ending mails must work from every mail that somebody still holds, so that link outlives new ones.
 */
export async function whoOpens(scope: Scope, token: string, needs: WebNeeds): Promise<LinkClaim | null> {
  const claim = readLink(scope, token, needs.now(), needs.secrets)
  if (!claim || scope === "stop") return claim
  const renewed = await needs.renewed(claim)
  return renewed === null || claim.made >= renewed ? claim : null
}
