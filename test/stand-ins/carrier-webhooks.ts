/** The carrier's calls to the bot: signed as it signs them, posted to where the bot listens in the trial. */
import { createHmac } from "node:crypto"

/** Where the bot listens, and the address that the carrier knows it by. */
export type Bot = { at: string; publicUrl: string }

/**
 * The signature of a posted form, by the carrier's published description: address, then each key with its value, sorted by
 * key; HMAC-SHA1 by the account's token, in base64 (Twilio docs, "Webhook security"). Our own few lines, so that the
 * library that checks is not the one that signs.
 */
export function signatureOf(token: string, address: string, form: readonly (readonly [string, string])[]): string {
  const keys = [...new Set(form.map(([key]) => key))].sort()
  const values = (key: string) => [...new Set(form.filter(([k]) => k === key).map(([, value]) => value))].sort()
  const signed = address + keys.flatMap((key) => values(key).map((value) => key + value)).join("")
  return createHmac("sha1", token).update(signed, "utf8").digest("base64")
}

/** Posts a webhook as the carrier does. The HTTP status of the answer; null where the bot could not be reached. */
export async function postWebhook(
  bot: Bot,
  address: string,
  token: string,
  form: readonly (readonly [string, string])[],
): Promise<{ status: number; text: string } | null> {
  const origin = bot.publicUrl.replace(/\/+$/, "")
  if (!address.startsWith(origin)) throw new Error(`the bot gave an address that is not below its own: ${address}`)
  try {
    const answer = await fetch(bot.at.replace(/\/+$/, "") + address.slice(origin.length), {
      method: "POST",
      headers: {
        "content-type": "application/x-www-form-urlencoded; charset=UTF-8",
        "x-twilio-signature": signatureOf(token, address, form),
        "user-agent": "TwilioProxy/1.1",
      },
      body: new URLSearchParams(form.map(([key, value]): [string, string] => [key, value])).toString(),
      signal: AbortSignal.timeout(15_000),
      redirect: "manual",
    })
    return { status: answer.status, text: await answer.text() }
  } catch {
    return null
  }
}

/** What a person's text looks like as a webhook. */
export function inboundForm(
  account: string,
  heard: { sid: string; from: string; to: string; body: string },
  pictures: readonly { url: string; type: string }[],
  extra: Record<string, string>,
): Record<string, string> {
  return {
    ToCountry: "US",
    SmsMessageSid: heard.sid,
    NumMedia: String(pictures.length),
    SmsSid: heard.sid,
    SmsStatus: "received",
    Body: heard.body,
    To: heard.to,
    NumSegments: "1",
    MessageSid: heard.sid,
    AccountSid: account,
    From: heard.from,
    ApiVersion: "2010-04-01",
    ...Object.fromEntries(
      pictures.flatMap(({ url, type }, i) => [
        [`MediaUrl${i}`, url],
        [`MediaContentType${i}`, type],
      ]),
    ),
    ...extra,
  }
}

/** What the carrier reports of a text of ours. */
export function reportForm(
  account: string,
  text: { sid: string; to: string; from: string },
  status: string,
  code: number | null,
): Record<string, string> {
  return {
    MessageSid: text.sid,
    SmsSid: text.sid,
    MessageStatus: status,
    SmsStatus: status,
    To: text.to,
    From: text.from,
    AccountSid: account,
    ApiVersion: "2010-04-01",
    ...(code === null ? {} : { ErrorCode: String(code) }),
  }
}
