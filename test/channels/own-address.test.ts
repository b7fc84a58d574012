import { execFileSync, spawnSync } from "node:child_process"
import { mkdtempSync, readFileSync, rmSync } from "node:fs"
import { createServer, type Server } from "node:https"
import type { AddressInfo } from "node:net"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { certificateDays, watchAddress } from "../../src/channels/own-address.ts"
import { addMs, DAY_MS, instantOf } from "../../src/values/instant.ts"

const hasOpenssl = spawnSync("openssl", ["version"]).status === 0

describe.runIf(hasOpenssl)("the certificate of our own address (O8; needs openssl to make one of thirty days)", () => {
  const folder = mkdtempSync(join(tmpdir(), "ryebell-certificate-"))
  const now = instantOf(Date.now())
  let server: Server
  let address: string

  beforeAll(async () => {
    const [key, cert] = [join(folder, "key.pem"), join(folder, "cert.pem")]
    const subject = ["-subj", "/CN=localhost", "-keyout", key, "-out", cert]
    execFileSync("openssl", ["req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "30", ...subject], {
      stdio: "ignore",
    })
    server = createServer({ key: readFileSync(key), cert: readFileSync(cert) }, (_, response) => void response.end())
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve))
    address = `https://localhost:${(server.address() as AddressInfo).port}`
  })
  afterAll(() => {
    server.close()
    rmSync(folder, { recursive: true, force: true })
  })

  it("is told fourteen days before it ends, and after", async () => {
    const told = async (days: number) => {
      const watch = watchAddress(address)
      await watch.look(addMs(now, days * DAY_MS))
      return watch.trouble()
    }
    expect(await told(0)).toBeNull()
    expect(await told(15)).toBeNull()
    expect(await told(18)).toMatch(/ends in 1[12] days/)
    expect(await told(31)).toBe("its certificate has run out")
  })

  it("is looked at once a day, and what was known stays where nobody answers", async () => {
    const watch = watchAddress(address)
    await watch.look(addMs(now, 18 * DAY_MS))
    await watch.look(addMs(now, 18.5 * DAY_MS))
    expect(watch.trouble()).toMatch(/ends in 1[12] days/)
    const away = watchAddress("https://localhost:1")
    await away.look(now)
    expect(away.trouble()).toBeNull()
  })
})

it("an address without a certificate has none that could end", async () => {
  expect(await certificateDays("http://localhost:1", instantOf(0))).toBeNull()
})
