import { existsSync } from "node:fs"
import { createServer } from "node:net"
import { tmpdir } from "node:os"
import { join } from "node:path"
import type { Entry } from "../../src/garden/entry.ts"
import { openReadOnly } from "../../src/store/read-only.ts"
import { ACCOUNT, NUMBER, SECRET, SENDER, TOKEN } from "./scene.ts"

/** The settings that a bot of the harness runs with. */
export function environment(folder: string, port: number, carrier: string, post: string): Record<string, string> {
  return {
    RYEBELL_GARDEN: join(folder, "gardens"),
    RYEBELL_DATA: join(folder, "data"),
    PUBLIC_URL: `http://127.0.0.1:${port}`,
    PORT: String(port),
    TWILIO_ACCOUNT_SID: ACCOUNT,
    TWILIO_AUTH_TOKEN: TOKEN,
    TWILIO_FROM: NUMBER,
    TWILIO_API_URL: carrier,
    SMTP_URL: post,
    MAIL_FROM: SENDER,
    SECRET_KEY: SECRET,
    TEXT_COUNTRIES: "1,44,64,91",
    LOG_LEVEL: "debug",
  }
}

/** The log of every garden, as anybody may read it. */
export async function readLog(folder: string): Promise<Record<string, Entry[]>> {
  const reader = await openReadOnly({ folder: join(folder, "data") })
  if (!reader) throw new Error(`there is no store in ${folder}`)
  const entries: Record<string, Entry[]> = {}
  for (const garden of await reader.gardens()) entries[garden] = await reader.entries(garden)
  await reader.close()
  return entries
}

export function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = createServer()
    server.listen(0, "127.0.0.1", () => {
      const { port } = server.address() as { port: number }
      server.close(() => resolve(port))
    })
  })
}

/** A kill loses nothing that was handed to the system: memory is as good as a disk here, and takes no wear. */
export function memoryFolder(): string {
  return existsSync("/dev/shm") ? "/dev/shm" : tmpdir()
}
