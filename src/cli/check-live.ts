import { tryMailbox } from "../channels/mail-imap.ts"
import { smtpChannel } from "../channels/mail-smtp.ts"
import { certificateDays, WARN_DAYS } from "../channels/own-address.ts"
import { serverWords } from "../channels/server-words.ts"
import { CarrierRefusal, carrierClient, silenceOf } from "../channels/sms-client.ts"
import { codeName, meaningOf } from "../channels/sms-codes.ts"
import { probeWebhooks } from "../channels/sms-probe.ts"
import type { Garden } from "../garden/garden.ts"
import { openReadOnly } from "../store/read-only.ts"
import type { Instant } from "../values/instant.ts"
import { CouldNot } from "../values/problem.ts"
import { openWeather } from "../weather/open.ts"
import type { World } from "./command.ts"

/** One thing that was tried: what came of it, in a line. */
export type Tried = { ok: boolean; line: string }

/**
 * Posts ourselves the webhooks of a carrier at PUBLIC_URL, one signed and one not. That nobody answers is no failure: the
 * bot may not be running.
 */
export async function tryWebhooks({ settings, clock }: World): Promise<Tried[]> {
  const { publicUrl, twilio } = settings
  if (publicUrl === null || twilio === null) return []
  const probe = await probeWebhooks(publicUrl, twilio.authToken)
  switch (probe.is) {
    case "fine":
      return [
        { ok: true, line: "a signed probe to PUBLIC_URL was taken, an unsigned one refused" },
        ...(await tryCertificate(publicUrl, clock.now())),
      ]
    case "signed refused":
      return [
        {
          ok: false,
          line: `a probe to PUBLIC_URL, signed as the carrier signs, was answered ${probe.status}: what answers there is not this bot, or runs with another TWILIO_AUTH_TOKEN or PUBLIC_URL. Both must be to the letter what the carrier has, path included`,
        },
      ]
    case "unsigned taken":
      return [
        {
          ok: false,
          line: `a probe to PUBLIC_URL that nobody signed was answered ${probe.status}, not 403: what answers there is not this bot`,
        },
      ]
    case "nobody":
      return [
        {
          ok: true,
          line: `NOTE: nobody answers at PUBLIC_URL (${probe.why}); start the bot and check again to see whether webhooks arrive`,
        },
      ]
    default:
      return probe satisfies never
  }
}

async function tryCertificate(publicUrl: string, now: Instant): Promise<Tried[]> {
  const days = await certificateDays(publicUrl, now).catch(() => null)
  if (days === null) return []
  const line = days < 0 ? "its certificate has run out" : `its certificate runs for ${days} more days`
  return [{ ok: days >= 0, line: days < WARN_DAYS ? `NOTE: ${line}` : line }]
}

/** Tries everything that is switched on: logs in, reads, leaves. Sends nothing to anybody. */
export async function tryLive(world: World, gardens: readonly Garden[]): Promise<Tried[]> {
  const tried: Tried[] = []
  for (const attempt of [tryCarrier, trySmtp, tryImap, tryWeather, tryDatabase])
    tried.push(...(await attempt(world, gardens)))
  return tried
}

async function tryCarrier({ settings: { twilio } }: World): Promise<Tried[]> {
  if (twilio === null) return []
  try {
    const { messages } = await carrierClient(twilio)().then((client) => client)
    await messages.page({ pageSize: 1 })
    return [{ ok: true, line: "texts: the carrier knows the account, and its list can be read" }]
  } catch (error) {
    return [{ ok: false, line: `texts: ${carrierWords(error)}` }]
  }
}

function carrierWords(error: unknown): string {
  if (!(error instanceof CarrierRefusal))
    return `the carrier does not answer (${silenceOf(error).code}): look whether this machine has a network`
  const meaning = meaningOf(error.code, error.status)
  return `the carrier refuses: ${meaning.text} (${codeName(meaning, error.code, error.status)})`
}

async function trySmtp({ settings: { smtpUrl, mailFrom } }: World): Promise<Tried[]> {
  if (smtpUrl === null || mailFrom === null) return []
  const channel = smtpChannel({ url: smtpUrl, from: mailFrom, wait: () => 0 })
  try {
    await channel.verify()
    return [{ ok: true, line: "mail: the server takes the connection and the password" }]
  } catch (error) {
    return [
      {
        ok: false,
        line: `mail: ${serverWords(error, "SMTP_URL") ?? `the server cannot be used (${codeOf(error)}); look at SMTP_URL`}`,
      },
    ]
  } finally {
    channel.close()
  }
}

async function tryImap({ settings: { imapUrl } }: World): Promise<Tried[]> {
  if (imapUrl === null) return []
  try {
    const count = await tryMailbox(imapUrl)
    return [{ ok: true, line: `mailbox: opened; ${count} mails lie in it` }]
  } catch (error) {
    const why = serverWords(error, "IMAP_URL") ?? (error instanceof Error ? error.message : "error")
    return [{ ok: false, line: `mailbox: it cannot be opened: ${why}` }]
  }
}

/** Reads a file of weather through; WrongInput where it is none, or a line of it cannot be. */
export async function tryWeatherFile({ settings: { weather }, read }: World): Promise<Tried[]> {
  if (["none", "open-meteo", "nws"].includes(weather)) return []
  const nothing = { recall: async () => null, remember: async () => {} }
  await openWeather({ kind: weather, read, ...nothing })
  return [{ ok: true, line: "it can be read" }]
}

async function tryWeather(world: World, gardens: readonly Garden[]): Promise<Tried[]> {
  const { weather, weatherApiUrl, mailFrom, publicUrl } = world.settings
  const place = gardens[0]?.place
  if (!place || (weather !== "open-meteo" && weather !== "nws")) return []
  const source = await openWeather({
    kind: weather,
    apiUrl: weatherApiUrl,
    recall: async () => null,
    remember: async () => {},
    read: (path) => world.read(path),
    contact: mailFrom ?? publicUrl,
  })
  const where = { lat: place.latitude, lon: place.longitude, elev_m: place.elev_m, zone: place.zone }
  await source?.daily(where, world.clock.now())
  await source?.idle()
  const days = await source?.daily(where, world.clock.now())
  const trouble = source?.trouble() ?? null
  source?.close()
  const ok = trouble === null && days != null
  return [
    {
      ok,
      line: ok
        ? `weather: ${source?.name} answers for ${place.latitude}, ${place.longitude}`
        : `weather: ${trouble ?? "it gives nothing for this place"}. Plans go by normals meanwhile; ${
            weatherApiUrl === null
              ? "check again in an hour, or set WEATHER to another service"
              : "look whether WEATHER_API_URL leads to the service that WEATHER names"
          }`,
    },
  ]
}

async function tryDatabase({ settings }: World): Promise<Tried[]> {
  if (settings.databaseUrl === null) return []
  try {
    const store = await openReadOnly({ folder: settings.data, url: settings.databaseUrl })
    await store?.close()
    return [{ ok: true, line: store ? "database: it answers" : "database: it answers, and holds nothing yet" }]
  } catch (error) {
    if (error instanceof CouldNot) return [{ ok: false, line: `database: ${error.message}` }]
    throw error
  }
}

function codeOf(error: unknown): string {
  return error instanceof Error && "code" in error ? String(error.code) : "error"
}
