/** Why a weather service gave nothing. `place`: it is about this place alone; `service`: asking for others would be no better. */
export class WeatherTrouble extends Error {
  readonly scope: "place" | "service"

  constructor(message: string, scope: "place" | "service", options?: ErrorOptions) {
    super(message, options)
    this.name = "WeatherTrouble"
    this.scope = scope
  }
}

export type Fetch = (address: string, init: RequestInit) => Promise<Response>

export type Ask = {
  fetch: Fetch
  /** Who asks, and where its keeper can be found: one of the services refuses whoever does not say. */
  userAgent: string
  signal?: AbortSignal
  timeoutMs?: number
}

export type Answer = { status: number; headers: Headers; body: unknown }

const TIMEOUT_MS = 15_000
/** A year of three columns is 40 kB; whatever is larger is not what was asked for. */
const MOST_BYTES = 4 * 1024 * 1024

/**
 * Asks for JSON. Throws a WeatherTrouble where no answer comes in time, or one that is too large or is no JSON; what the
 * status means is for the caller. Redirects are not followed to other hosts.
 */
export async function getJson(address: string, ask: Ask, headers: Record<string, string> = {}): Promise<Answer> {
  const late = AbortSignal.timeout(ask.timeoutMs ?? TIMEOUT_MS)
  const signal = ask.signal ? AbortSignal.any([late, ask.signal]) : late
  let target = address
  for (let hop = 0; hop < 3; hop += 1) {
    const answer = await once(target, ask, headers, signal)
    if (!("onward" in answer)) return answer
    if (new URL(answer.onward).origin !== new URL(address).origin)
      throw new WeatherTrouble("it sent us on to another host", "service")
    target = answer.onward
  }
  throw new WeatherTrouble("it sent us on too often", "service")
}

async function once(
  address: string,
  ask: Ask,
  headers: Record<string, string>,
  signal: AbortSignal,
): Promise<Answer | { onward: string }> {
  try {
    const response = await ask.fetch(address, {
      headers: { accept: "application/json, application/geo+json", "user-agent": ask.userAgent, ...headers },
      redirect: "manual",
      signal,
    })
    const onward = response.headers.get("location")
    if ([301, 302, 307, 308].includes(response.status) && onward && URL.canParse(onward, address)) {
      await response.body?.cancel()
      return { onward: new URL(onward, address).href }
    }
    const text = await textOf(response)
    return { status: response.status, headers: response.headers, body: parsed(text) }
  } catch (error) {
    if (error instanceof WeatherTrouble) throw error
    const why = signal.aborted ? "it does not answer in time" : "it cannot be reached"
    throw new WeatherTrouble(why, "service", { cause: error })
  }
}

async function textOf(response: Response): Promise<string> {
  const parts: Uint8Array[] = []
  let size = 0
  for await (const part of response.body ?? []) {
    size += part.length
    if (size > MOST_BYTES) throw new WeatherTrouble("its answer is too large", "service")
    parts.push(part)
  }
  return new TextDecoder().decode(Buffer.concat(parts))
}

/** undefined: no JSON. Errors come as pages now and then; their status says enough. */
function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
