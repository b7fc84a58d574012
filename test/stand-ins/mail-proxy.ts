import { connect, createServer, type Socket } from "node:net"

export type MailProxy = {
  port: number
  /** How many connections were made through it. */
  connections: number
  /** Goes on taking what either side says and passes nothing on: neither side can tell. New connections too. */
  mute(): void
  /** Passes on again; connections that went mute stay so. */
  unmute(): void
  /** Ends all connections, both ways. */
  cut(): void
  /** Turns new connections away at once. */
  refuse(yes: boolean): void
  close(): Promise<void>
}

/** A line between a client and a server on loopback that can be cut, and that can go dead without a sign. */
export async function mailProxy(to: number): Promise<MailProxy> {
  let muted = false
  let refusing = false
  const pairs = new Set<{ near: Socket; far: Socket; dead: boolean }>()
  const server = createServer((near) => {
    near.on("error", () => {})
    if (refusing) return near.destroy()
    proxy.connections += 1
    const far = connect(to, "127.0.0.1")
    far.on("error", () => near.destroy())
    const pair = { near, far, dead: muted }
    pairs.add(pair)
    near.on("data", (data) => !pair.dead && far.write(data))
    far.on("data", (data) => !pair.dead && near.write(data))
    near.on("close", () => {
      far.destroy()
      pairs.delete(pair)
    })
    far.on("close", () => !pair.dead && near.destroy())
  })
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve))
  const address = server.address()
  const proxy: MailProxy = {
    port: typeof address === "object" && address ? address.port : 0,
    connections: 0,
    mute() {
      muted = true
      for (const pair of pairs) pair.dead = true
    },
    unmute() {
      muted = false
    },
    cut() {
      for (const { near, far } of pairs) {
        near.destroy()
        far.destroy()
      }
    },
    refuse(yes) {
      refusing = yes
    },
    close() {
      proxy.cut()
      return new Promise((resolve) => server.close(() => resolve()))
    },
  }
  return proxy
}
