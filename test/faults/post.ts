import type { AddressInfo } from "node:net"
import { simpleParser } from "mailparser"
import { SMTPServer } from "smtp-server"
import type { Chance } from "./chance.ts"
import type { StepName } from "./steps.ts"

/** How often the mail server misbehaves, as shares (the defaults of promises.md 3.2). */
export type PostFaults = {
  /** Turned away on the first try, as greylisting does. */
  greylisted: number
  /** Hangs up behind the final dot: the mail was taken, or was not, and nobody is told. */
  hangUp: number
  refused: number
  off: boolean
}
export const USUAL_POST: PostFaults = { greylisted: 0.1, hangUp: 0.02, refused: 0.01, off: false }
export const NO_POST_FAULTS: PostFaults = { greylisted: 0, hangUp: 0, refused: 0, off: false }

/** A mail that the server took. */
export type Mailed = {
  n: number
  id: string
  to: string
  subject: string
  text: string
  at: number
  botAt: number
  raw: string
}

export type PostOptions = {
  chance: Chance
  faults: PostFaults
  now(): number
  botNow(): number
  /** The next number in the order of all that happens. */
  count(): number
  moment(step: StepName): "gone" | "on"
}

export type Post = Awaited<ReturnType<typeof openPost>>

/** A mail server on loopback that keeps a book of every mail it took, and misbehaves by lots from a seed. */
export async function openPost(options: PostOptions) {
  const { chance } = options
  const faults = { ...options.faults }
  const book: Mailed[] = []
  const refused: string[] = []
  const seen = new Set<string>()
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ["STARTTLS", "AUTH"],
    logger: false,
    onConnect(_, done) {
      if (faults.off) done(Object.assign(new Error("down"), { responseCode: 421 }))
      else done()
    },
    onData(stream, session, done) {
      const hangUp = () => (session as unknown as { _socket?: { destroy(): void } })._socket?.destroy()
      if (options.moment("mail half written") === "gone") {
        stream.resume()
        return
      }
      const parts: Buffer[] = []
      stream.on("data", (part: Buffer) => parts.push(part))
      stream.on("end", async () => {
        const raw = Buffer.concat(parts).toString("latin1")
        const mail = await simpleParser(Buffer.concat(parts))
        const id = mail.messageId ?? ""
        const to = session.envelope.rcptTo.map((each) => each.address).join(",")
        if (!seen.has(id) && chance.is(faults.greylisted)) {
          seen.add(id)
          return done(Object.assign(new Error("try again later"), { responseCode: 451 }))
        }
        seen.add(id)
        if (chance.is(faults.refused)) {
          refused.push(id)
          return done(Object.assign(new Error("not this one"), { responseCode: 554 }))
        }
        const lost = chance.is(faults.hangUp)
        if (lost && chance.is(0.5)) return hangUp()
        book.push({
          n: options.count(),
          id,
          to,
          subject: mail.subject ?? "",
          text: mail.text ?? "",
          at: options.now(),
          botAt: options.botNow(),
          raw,
        })
        if (options.moment("mail taken") === "gone") return
        if (lost) return hangUp()
        done()
      })
    },
  })
  server.on("error", () => {})
  const port = await new Promise<number>((resolve) => {
    const listening = server.listen(0, "127.0.0.1", () => resolve((listening.address() as AddressInfo).port))
  })
  return {
    url: `smtp://127.0.0.1:${port}`,
    book,
    refused,
    faults,
    close: () => new Promise<void>((resolve) => server.close(() => resolve())),
  }
}
