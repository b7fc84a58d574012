import type { Socket } from "node:net"
import { SMTPServer } from "smtp-server"

/** A mail that the stand-in took, as it came over the wire. */
export type TakenMail = { from: string; to: string[]; raw: Buffer; envelopeId: string | null }

/** What the server is to do wrong; each is asked at every try, in the order of the protocol. */
export type SmtpFaults = {
  /** A reply such as `451 4.7.1 greylisted` to the recipient; null: taken. */
  recipient?: (address: string) => string | null
  /** A reply to the whole mail; null: taken. */
  content?: () => string | null
  /** Hangs up behind the final dot without a reply: `taken`, the mail is in the book all the same; `lost`, it is not. */
  behindDot?: () => "taken" | "lost" | null
  /** Hangs up in the middle of the mail. */
  inTheMiddle?: () => boolean
  /** User and password that are accepted; absent: none are asked for. */
  login?: { user: string; password: string }
}

export type SmtpStandIn = {
  url: string
  port: number
  taken: TakenMail[]
  /** How often a mail was offered. */
  tries: number
  faults: SmtpFaults
  close(): Promise<void>
}

/** A mail server on loopback that writes down what it takes, and fails as it is told. */
export async function smtpStandIn(faults: SmtpFaults = {}): Promise<SmtpStandIn> {
  const sockets = new Map<string, Socket>()
  const server = new SMTPServer({
    disabledCommands: faults.login ? ["STARTTLS"] : ["STARTTLS", "AUTH"],
    authOptional: !faults.login,
    allowInsecureAuth: true,
    hideENHANCEDSTATUSCODES: true,
    hideDSN: false,
    logger: false,
    onAuth(auth, _session, done) {
      const wanted = standIn.faults.login
      if (wanted && auth.username === wanted.user && auth.password === wanted.password)
        return done(null, { user: wanted.user })
      done(reply("535 5.7.8 authentication failed"))
    },
    onMailFrom(_address, _session, done) {
      standIn.tries += 1
      done()
    },
    onRcptTo(address, _session, done) {
      const refusal = standIn.faults.recipient?.(address.address) ?? null
      done(refusal === null ? null : reply(refusal))
    },
    onData(stream, session, done) {
      const chunks: Buffer[] = []
      stream.on("data", (chunk: Buffer) => {
        chunks.push(chunk)
        if (standIn.faults.inTheMiddle?.()) sockets.get(session.id)?.destroy()
      })
      stream.on("end", () => {
        const hangUp = standIn.faults.behindDot?.() ?? null
        const refusal = standIn.faults.content?.() ?? null
        if (refusal === null && hangUp !== "lost") {
          standIn.taken.push({
            from: session.envelope.mailFrom ? session.envelope.mailFrom.address : "",
            to: session.envelope.rcptTo.map((each) => each.address),
            raw: Buffer.concat(chunks),
            envelopeId: session.envelope.dsn?.envid ?? null,
          })
        }
        if (hangUp !== null) sockets.get(session.id)?.destroy()
        else done(refusal === null ? null : reply(refusal))
      })
    },
    onConnect(session, done) {
      // The library shows a session without its socket; the newest connection is the one that it belongs to.
      const socket = [...newest].find((each) => each.remotePort === session.remotePort)
      if (socket) sockets.set(session.id, socket)
      done()
    },
    onClose(session) {
      sockets.delete(session.id)
    },
  })
  const newest = new Set<Socket>()
  server.server.on("connection", (socket: Socket) => {
    newest.add(socket)
    socket.on("close", () => newest.delete(socket))
  })
  server.on("error", () => {})
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve))
  const address = server.server.address()
  const port = typeof address === "object" && address ? address.port : 0
  const standIn: SmtpStandIn = {
    url: `smtp://127.0.0.1:${port}`,
    port,
    taken: [],
    tries: 0,
    faults,
    close: () => {
      for (const socket of newest) socket.destroy()
      return new Promise((resolve) => server.close(() => resolve()))
    },
  }
  return standIn
}

function reply(line: string): Error {
  const [, code = "550", text = line] = /^(\d{3}) (.*)$/.exec(line) ?? []
  return Object.assign(new Error(text), { responseCode: Number(code) })
}
