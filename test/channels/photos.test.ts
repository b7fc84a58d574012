import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs"
import { createServer, type RequestListener, type Server } from "node:http"
import type { AddressInfo } from "node:net"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterEach, beforeEach, describe, expect, it } from "vitest"
import type { Incoming } from "../../src/bot/needs.ts"
import { publicOnly } from "../../src/channels/photo-fetch.ts"
import { photoKind, photoPixels } from "../../src/channels/photo-kind.ts"
import {
  CARRIER_HOSTS,
  fetchPhotos,
  type PhotoOptions,
  readPhoto,
  standInHosts,
  withPhotos,
} from "../../src/channels/photos.ts"
import { isPrivateAddress } from "../../src/channels/private-address.ts"
import { instant } from "../../src/values/instant.ts"
import { heic, jpeg, NO_PICTURES, PICTURES, png, webpExtended, webpLossless } from "./photo-bytes.ts"
import { aCarrier, INES, START } from "./sms-given.ts"

const KEY = { user: "AC1", password: "secret" }
let folder: string
const servers: Server[] = []
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "ryebell-photos-"))
})
afterEach(async () => {
  rmSync(folder, { recursive: true })
  for (const server of servers.splice(0)) {
    server.closeAllConnections()
    await new Promise((resolve) => server.close(resolve))
  }
})

async function serve(listener: RequestListener): Promise<string> {
  const server = createServer(listener)
  servers.push(server)
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve))
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`
}

const fetchOne = async (url: string, over: Partial<PhotoOptions> = {}, id = "MM1") =>
  (
    await fetchPhotos(
      { id, media: [{ url, type: "image/jpeg" }] },
      { hosts: CARRIER_HOSTS, folder, credentials: KEY, ...over },
    )
  )[0]
const kept = () => readdirSync(folder)

describe("a picture", () => {
  it.each(Object.entries(PICTURES))(
    "of type %s is kept whole, under a name that follows from the message's id",
    async (type, make) => {
      const bytes = make(640, 480)
      // The sender's own word for the type is believed by nobody.
      const url = await serve((_, response) => response.writeHead(200, { "content-type": "text/html" }).end(bytes))
      const outcome = await fetchOne(`${url}/a`, { hosts: standInHosts(url) }, "MMabc")
      expect(outcome).toMatchObject({ is: "kept", type })
      const name = outcome?.is === "kept" ? outcome.name : ""
      expect(name).toMatch(/^MMabc-1\.[a-z]{3,4}$/)
      expect(readFileSync(join(folder, name)).equals(bytes)).toBe(true)
      expect(readPhoto(folder, name)).toMatchObject({ type })
      expect(statSync(join(folder, name)).mode & 0o777).toBe(0o600)
    },
  )

  it.each(Object.entries(NO_PICTURES))("that is %s is not kept, whatever it is called", async (_, bytes) => {
    const url = await serve((_, response) => response.writeHead(200, { "content-type": "image/jpeg" }).end(bytes))
    expect(await fetchOne(`${url}/a.jpg`, { hosts: standInHosts(url) })).toMatchObject({
      is: "refused",
      code: "no-picture",
    })
    expect(kept()).toEqual([])
  })

  it("fetched twice is there once, and asked for once", async () => {
    let asked = 0
    const url = await serve((_, response) => {
      asked += 1
      response.end(jpeg(10, 10))
    })
    const first = await fetchOne(`${url}/a`, { hosts: standInHosts(url) })
    expect(await fetchOne(`${url}/a`, { hosts: standInHosts(url) })).toEqual(first)
    expect([asked, kept().length]).toEqual([1, 1])
  })

  it("of a message whose id is a path stays in its folder", async () => {
    const url = await serve((_, response) => response.end(jpeg(10, 10)))
    await fetchOne(`${url}/a`, { hosts: standInHosts(url) }, "../../etc/passwd\u0000")
    expect(kept()).toEqual(["-etc-passwd--1.jpg"])
  })
})

describe("limits (X15)", () => {
  it("10 MB: one byte more is refused, said or unsaid", async () => {
    const most = 1000
    const make = (size: number) => Buffer.concat([jpeg(10, 10), Buffer.alloc(size)]).subarray(0, size)
    const url = await serve((request, response) => {
      const size = Number(request.url?.split("/").at(-1))
      if (request.url?.startsWith("/unsaid")) response.writeHead(200, { "transfer-encoding": "chunked" })
      response.end(make(size))
    })
    const at = (path: string, id: string) =>
      fetchOne(`${url}${path}`, { hosts: standInHosts(url), mostBytes: most }, id)
    expect(await at("/said/1000", "a")).toMatchObject({ is: "kept" })
    expect(await at("/unsaid/1000", "b")).toMatchObject({ is: "kept" })
    expect(await at("/said/1001", "c")).toMatchObject({ is: "refused", code: "too-large" })
    expect(await at("/unsaid/1001", "d")).toMatchObject({ is: "refused", code: "too-large" })
  })

  it("40 megapixels, by the picture's own header, for every kind", () => {
    const makers = [...Object.values(PICTURES), webpLossless, webpExtended]
    for (const make of makers) {
      const bytes = make(8000, 5000)
      expect(photoPixels(bytes, photoKind(bytes) as never), make.name).toBe(40_000_000)
    }
  })

  it("a picture that unfolds into more is not kept; nor one that does not say", async () => {
    const url = await serve((request, response) =>
      response.end(request.url === "/bomb" ? png(50_000, 50_000) : heic(0, 0).slice(0, 40)),
    )
    expect(await fetchOne(`${url}/bomb`, { hosts: standInHosts(url) })).toMatchObject({
      is: "refused",
      code: "too-many-pixels",
    })
    expect(await fetchOne(`${url}/silent`, { hosts: standInHosts(url) })).toMatchObject({ is: "refused" })
    expect(kept()).toEqual([])
  })

  it("a packed answer is not unpacked", async () => {
    const url = await serve((_, response) => response.writeHead(200, { "content-encoding": "gzip" }).end(jpeg(1, 1)))
    expect(await fetchOne(`${url}/a`, { hosts: standInHosts(url) })).toMatchObject({ is: "refused", code: "packed" })
  })

  it("ten pictures of a message, no more", async () => {
    let asked = 0
    const url = await serve((_, response) => {
      asked += 1
      response.end(jpeg(1, 1))
    })
    const media = Array.from({ length: 50 }, (_, i) => ({ url: `${url}/${i}`, type: "" }))
    await fetchPhotos({ id: "MM1", media }, { hosts: standInHosts(url), folder, credentials: null })
    expect(asked).toBe(10)
  })

  it("a host that drips is left after a while", async () => {
    const url = await serve((_, response) => {
      response.writeHead(200)
      response.write(jpeg(1, 1).subarray(0, 4))
    })
    expect(await fetchOne(`${url}/a`, { hosts: standInHosts(url), timeoutMs: 150 })).toMatchObject({ is: "later" })
  })
})

describe("addresses that a message may not send us to (X14)", () => {
  it.each([
    "http://169.254.169.254/latest/meta-data/iam/",
    "https://169.254.169.254/2010-04-01/Accounts/",
    "http://127.0.0.1:5432/",
    "https://localhost/2010-04-01/Accounts/AC1",
    "https://[::1]/a",
    "https://[::ffff:10.0.0.1]/a",
    "https://2130706433/a",
    "https://0x7f.1/a",
    "http://api.twilio.com/2010-04-01/Accounts/AC1/Messages/MM1/Media/ME1",
    "https://api.twilio.com:8443/2010-04-01/Accounts/AC1",
    "https://api.twilio.com/other/path",
    "https://api.twilio.com.evil.example/2010-04-01/Accounts/AC1",
    "https://evil.example/?https://api.twilio.com/2010-04-01/Accounts/",
    "https://api.twilio.com@evil.example/2010-04-01/Accounts/AC1",
    "https://user:pw@api.twilio.com/2010-04-01/Accounts/AC1",
    "https://api.twilio.com/2010-04-01/Accounts/../../other",
    "https://s3-external-1.amazonaws.com/someone-elses-bucket/x",
    "file:///etc/passwd",
    "data:image/png;base64,AAAA",
    "ftp://api.twilio.com/2010-04-01/Accounts/AC1",
    "javascript:alert(1)",
    "//api.twilio.com/x",
    "",
    "not an address",
  ])("%s", async (url) => {
    expect(await fetchOne(url)).toMatchObject({ is: "refused" })
    expect(kept()).toEqual([])
  })

  it("a name of the carrier's that leads into the house is refused at the moment of connecting", async () => {
    const leadsTo = (...addresses: string[]) =>
      new Promise((resolve) => {
        const through = ((_name: string, _options: unknown, found: (error: null, all: object[]) => void) =>
          found(
            null,
            addresses.map((address) => ({ address, family: address.includes(":") ? 6 : 4 })),
          )) as never
        publicOnly("api.twilio.com", {}, (error, address) => resolve(error ? "refused" : address), through)
      })
    expect(await leadsTo("54.172.60.1")).toBe("54.172.60.1")
    expect(await leadsTo("10.0.0.1")).toBe("refused")
    expect(await leadsTo("54.172.60.1", "127.0.0.1")).toBe("refused")
    expect(await leadsTo("::ffff:192.168.1.1")).toBe("refused")
    expect(await leadsTo()).toBe("refused")
  })

  it("names that do not resolve cost no more than the picture", async () => {
    const hosts = [{ origin: "https://carrier.invalid", path: "/", key: true }]
    expect(await fetchOne("https://carrier.invalid/a", { hosts })).toMatchObject({ is: "later", code: "no-answer" })
  })

  it("a redirect goes to hosts of the list only, and never with the key", async () => {
    const seen: (string | undefined)[] = []
    const other = await serve((request, response) => {
      seen.push(request.headers.authorization)
      response.end(jpeg(1, 1))
    })
    const first = await serve((request, response) => {
      seen.push(request.headers.authorization)
      const to =
        request.url === "/cdn"
          ? `${other}/x`
          : request.url === "/inside"
            ? "http://127.0.0.1:1/x"
            : `/round${Math.random()}`
      response.writeHead(302, { location: to }).end()
    })
    const own = (origin: string, key: boolean) => ({ origin, path: "/", key, ownMachine: true })
    const hosts = [own(first, true), own(other, true)]
    expect(await fetchOne(`${first}/cdn`, { hosts }, "a")).toMatchObject({ is: "kept" })
    expect(seen).toEqual([`Basic ${Buffer.from("AC1:secret").toString("base64")}`, undefined])
    expect(await fetchOne(`${first}/inside`, { hosts }, "b")).toMatchObject({ is: "refused", code: "host" })
    expect(await fetchOne(`${first}/cdn`, { hosts: hosts.slice(0, 1) }, "c")).toMatchObject({
      is: "refused",
      code: "host",
    })
    expect(await fetchOne(`${first}/loop`, { hosts }, "d")).toMatchObject({ is: "refused", code: "redirects" })
    expect(seen.filter((each) => each !== undefined)).toHaveLength(4)
  })
})

describe("addresses that are not of the open network (IANA special-purpose registries, from memory)", () => {
  it.each([
    "0.0.0.0",
    "10.1.2.3",
    "100.64.0.1",
    "127.0.0.1",
    "127.255.255.254",
    "169.254.169.254",
    "172.16.0.1",
    "172.31.255.255",
    "192.0.0.8",
    "192.0.2.1",
    "192.168.0.1",
    "198.18.0.1",
    "198.51.100.7",
    "203.0.113.9",
    "224.0.0.1",
    "239.1.1.1",
    "240.0.0.1",
    "255.255.255.255",
    "::",
    "::1",
    "::ffff:127.0.0.1",
    "::ffff:8.8.8.8",
    "::8.8.8.8",
    "64:ff9b::a00:1",
    "100::1",
    "2001::1",
    "2001:db8::1",
    "2002:7f00:1::",
    "3fff::1",
    "fc00::1",
    "fd12:3456::1",
    "fe80::1",
    "fe80::1%eth0",
    "fec0::1",
    "ff02::1",
    "[::1]",
    "",
    "localhost",
    "example.org",
    "1.2.3",
    "0x7f000001",
  ])("%s", (address) => expect(isPrivateAddress(address)).toBe(true))
  it.each([
    "1.1.1.1",
    "8.8.8.8",
    "54.172.60.1",
    "100.63.255.255",
    "100.128.0.1",
    "172.15.0.1",
    "172.32.0.1",
    "192.169.0.1",
    "2600:1f18::1",
    "2a00:1450:4001::1",
    "[2600::1]",
  ])("%s is of the open network", (address) => expect(isPrivateAddress(address)).toBe(false))
})

describe("what goes wrong with a picture", () => {
  const message = {
    id: "MM1",
    via: "sms" as const,
    from: INES,
    to: "",
    text: "look at this",
    at: instant("2026-05-13T12:00:00Z"),
    media: [{ url: "https://evil.example/a", type: "image/jpeg" }],
  }

  it("never costs the words: the message goes on without it and says so", async () => {
    const outcomes = await fetchPhotos(message, { hosts: CARRIER_HOSTS, folder: "/proc/nowhere", credentials: KEY })
    expect(withPhotos(message, outcomes)).toEqual({ ...message, media: [], extra: { photosMissing: "1" } })
  })

  it("a folder that cannot be written is a picture for later", async () => {
    const url = await serve((_, response) => response.end(jpeg(1, 1)))
    const file = join(folder, "a-file")
    writeFileSync(file, "")
    expect(await fetchOne(`${url}/a`, { hosts: standInHosts(url), folder: join(file, "below") })).toMatchObject({
      is: "later",
      code: "not-kept",
    })
  })

  it.each([
    [404, "later"],
    [429, "later"],
    [500, "later"],
    [401, "refused"],
    [410, "refused"],
  ])("an answer of %i is a picture %s", async (status, is) => {
    const url = await serve((_, response) => response.writeHead(status).end("no"))
    expect(await fetchOne(`${url}/a`, { hosts: standInHosts(url) })).toMatchObject({ is, code: `http-${status}` })
  })

  it("a name that nobody gave is no picture, and no way out of the folder", () => {
    for (const name of ["../a.jpg", "a.jpg/..", "/etc/passwd", "a", "MM1-1.jpg", "a.jp/g", "..jpg"])
      expect(readPhoto(folder, name)).toBeNull()
  })
})

describe("a picture on the stand-in carrier", () => {
  it("comes through the carrier's interface with the key, on to its store without", async () => {
    const { carrier, channel } = await aCarrier()
    const bytes = jpeg(640, 480)
    await carrier.hears({ from: INES, body: "look", pictures: [{ type: "image/jpeg", bytes }], post: false })
    const incoming = (await channel.readInboundList(START))[0] as Incoming
    const credentials = { user: carrier.account, password: carrier.token }
    const outcomes = await fetchPhotos(incoming, { hosts: standInHosts(carrier.url), folder, credentials })
    expect(withPhotos(incoming, outcomes).media).toEqual([{ url: `${incoming.id}-1.jpg`, type: "image/jpeg" }])
    expect(readFileSync(join(folder, `${incoming.id}-1.jpg`)).equals(bytes)).toBe(true)
    expect(carrier.violations).toEqual([])
    await carrier.close()
  })
})
