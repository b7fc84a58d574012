/** What came of posting ourselves webhooks at the public address, one signed as the carrier signs and one not. */
export type Probe =
  | { is: "fine" }
  /** Whoever answers does not take the carrier's own signature: a proxy changes the address, or the token is another. */
  | { is: "signed refused"; status: number }
  /** Whoever answers takes what nobody signed. */
  | { is: "unsigned taken"; status: number }
  | { is: "nobody"; why: string }

const PATIENCE_MS = 10_000

/**
 * Posts a delivery report that names no text of ours to PUBLIC_URL: signed it must be taken, unsigned it must be refused
 * (failure X2). It changes nothing. The running bot answers, through whatever proxy stands before it.
 */
export async function probeWebhooks(publicUrl: string, authToken: string): Promise<Probe> {
  const { getExpectedTwilioSignature } = await import("twilio/lib/webhooks/webhooks.js")
  const address = `${publicUrl.replace(/\/+$/, "")}/twilio/status`
  const form = { MessageSid: `SM${"0".repeat(32)}`, MessageStatus: "sent" }
  const post = async (signature: string): Promise<number> => {
    const answer = await fetch(address, {
      method: "POST",
      headers: { "content-type": "application/x-www-form-urlencoded", "x-twilio-signature": signature },
      body: new URLSearchParams(form).toString(),
      redirect: "manual",
      signal: AbortSignal.timeout(PATIENCE_MS),
    })
    await answer.body?.cancel()
    return answer.status
  }
  try {
    const signed = await post(getExpectedTwilioSignature(authToken, address, form))
    if (signed !== 200) return { is: "signed refused", status: signed }
    const unsigned = await post(getExpectedTwilioSignature(`${authToken}x`, address, form))
    return unsigned === 403 ? { is: "fine" } : { is: "unsigned taken", status: unsigned }
  } catch (error) {
    return { is: "nobody", why: codeOf(error) }
  }
}

function codeOf(error: unknown): string {
  const cause = error instanceof Error ? error.cause : null
  if (cause instanceof Error && "code" in cause) return String(cause.code)
  return error instanceof Error ? error.name : "no answer"
}
