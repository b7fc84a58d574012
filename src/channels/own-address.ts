import { connect } from "node:tls"
import { DAY_MS, type Instant } from "../values/instant.ts"

/** A certificate that ends so soon should have been renewed already (failure O8). */
export const WARN_DAYS = 14
const PATIENCE_MS = 10_000

/** Whole days until the certificate of an https address ends, negative once it has; null: it has none (http). Throws where nobody answers. */
export function certificateDays(publicUrl: string, now: Instant): Promise<number | null> {
  const url = new URL(publicUrl)
  if (url.protocol !== "https:") return Promise.resolve(null)
  const host = url.hostname.replace(/^\[|\]$/g, "")
  return new Promise((resolve, reject) => {
    // Whether it is trusted is for those who visit; here only its last day is read.
    const socket = connect({ host, port: Number(url.port) || 443, servername: host, rejectUnauthorized: false }, () => {
      const ends = Date.parse(socket.getPeerCertificate().valid_to)
      socket.destroy()
      resolve(Math.floor((ends - now) / DAY_MS))
    })
    socket.setTimeout(PATIENCE_MS, () => socket.destroy(new Error("no answer")))
    socket.once("error", reject)
  })
}

export type AddressWatch = {
  /** Looks once a day, and never fails: a home network may not reach its own address from within. */
  look(now: Instant): Promise<void>
  /** What the owner should know of the certificate; null: all is well, or nothing is known. */
  trouble(): string | null
}

/** Watches how long the certificate of our own public address runs: once it ends no webhook and no visitor arrives. */
export function watchAddress(publicUrl: string): AddressWatch {
  let looked: Instant | null = null
  let days: number | null = null
  return {
    async look(now) {
      if (looked !== null && now >= looked && now - looked < DAY_MS) return
      looked = now
      days = await certificateDays(publicUrl, now).catch(() => days)
    },
    trouble() {
      if (days === null || days >= WARN_DAYS) return null
      return days < 0 ? "its certificate has run out" : `its certificate ends in ${days} days`
    },
  }
}
