import { existsSync, readFileSync, statSync } from "node:fs"
import { join } from "node:path"
import { describe, expect, it } from "vitest"
import { parse } from "yaml"
import { COMMANDS } from "../src/cli/index.ts"
import { readSettings } from "../src/settings.ts"

/*
 * What can be said of the container without an engine that builds and runs it: each line is held to the files that it names
 * and to what the program knows.
 */
const root = new URL("../", import.meta.url).pathname
const read = (name: string) => readFileSync(join(root, name), "utf8")

/** The instructions of the Dockerfile in order, with lines that were broken put together. */
const instructions = read("Dockerfile")
  .replace(/\\\n\s*/g, " ")
  .split("\n")
  .filter((line) => line.trim() !== "" && !line.startsWith("#"))
  .map((line) => {
    const [, word = "", rest = ""] = /^([A-Z]+)\s+(.*)$/.exec(line) ?? []
    return { word, rest: rest.trim() }
  })
const all = (word: string) => instructions.filter((each) => each.word === word).map((each) => each.rest)
const copied = all("COPY").flatMap((rest) => rest.split(/\s+/).slice(0, -1))
const ignored = read(".dockerignore").trim().split("\n")

/** The words of a command in the form that needs no shell. */
function words(rest: string): string[] {
  return JSON.parse(rest.slice(rest.indexOf("["))) as string[]
}

describe("the image", () => {
  it("is understood line by line", () => {
    expect(instructions.filter((each) => each.word === "")).toEqual([])
    expect(instructions.length).toBeGreaterThan(10)
  })

  it("copies only what is there and what is not left out", () => {
    for (const source of copied) {
      expect(existsSync(join(root, source)), source).toBe(true)
      expect(ignored, source).not.toContain(source)
    }
  })

  it("holds everything that the program reads when it runs", () => {
    expect(copied).toEqual(expect.arrayContaining(["package.json", "package-lock.json", "src", "shared", "config"]))
  })

  it("runs as nobody of power, and only its data folder is that user's", () => {
    const users = all("USER")
    expect(users.at(-1)).toBe("node")
    const order = instructions.map((each) => each.word)
    expect(order.lastIndexOf("USER")).toBeGreaterThan(order.lastIndexOf("RUN"))
    expect(order.lastIndexOf("USER")).toBeLessThan(order.lastIndexOf("CMD"))
    expect(all("COPY").some((rest) => rest.includes("--chown"))).toBe(false)
    expect(
      all("RUN")
        .join("\n")
        .match(/chown \S+ \S+/g),
    ).toEqual(["chown node:node /data"])
  })

  it("starts and asks for its health by commands that there are, without a shell", () => {
    for (const rest of [...all("CMD"), ...all("HEALTHCHECK")]) {
      const [program, file, command] = words(rest)
      expect(program).toBe("node")
      expect(statSync(join(root, file as string)).isFile()).toBe(true)
      expect(Object.keys(COMMANDS)).toContain(command)
    }
    expect(words(all("CMD")[0] as string)[2]).toBe("run")
    expect(words(all("HEALTHCHECK")[0] as string)[2]).toBe("serve-check")
    expect(all("STOPSIGNAL")).toEqual(["SIGTERM"])
  })

  it("is of the Node that the program asks for, without tools of development", () => {
    const { engines } = JSON.parse(read("package.json")) as { engines: { node: string } }
    expect(all("FROM")).toHaveLength(1)
    expect(all("FROM")[0]).toMatch(new RegExp(`^node:${engines.node.replace(/\D/g, "")}-\\w+-slim$`))
    expect(all("RUN")[0]).toMatch(/npm ci .*--omit=dev .*--ignore-scripts/)
  })

  it("holds no secret, and leaves out what is nobody's business", () => {
    const environment = Object.fromEntries(
      all("ENV").flatMap((rest) => rest.split(/\s+/).map((pair) => pair.split("=") as [string, string])),
    )
    expect(Object.keys(environment).filter((name) => /KEY|TOKEN|PASS|SECRET|URL/.test(name))).toEqual([])
    expect(() => readSettings(environment)).not.toThrow()
    expect(ignored).toEqual(expect.arrayContaining([".git", "node_modules", "data", "test", ".env"]))
  })
})

type Service = {
  image?: string
  environment?: Record<string, string>
  env_file?: string[]
  volumes?: string[]
  ports?: string[]
  depends_on?: Record<string, { condition: string }>
  healthcheck?: unknown
  read_only?: boolean
  tmpfs?: string[]
  cap_drop?: string[]
  security_opt?: string[]
  stop_grace_period?: string
  build?: { context: string }
}

describe("the compose file", () => {
  const { services, volumes } = parse(read("config/compose.yaml"), { merge: true }) as {
    services: Record<"database" | "web" | "worker", Service>
    volumes: Record<string, unknown>
  }
  const ours = [services.web, services.worker]

  it("builds from the folder of the Dockerfile and waits for a database that is well", () => {
    for (const service of ours) {
      expect(existsSync(join(root, "config", service.build?.context as string, "Dockerfile"))).toBe(true)
      expect(service.depends_on).toEqual({ database: { condition: "service_healthy" } })
    }
    expect(services.database.healthcheck).toBeDefined()
  })

  it("takes every secret from outside, and says which is missing", () => {
    const given = Object.values(services).flatMap((each) => Object.entries(each.environment ?? {}))
    for (const [name, value] of given.filter(([name]) => /PASSWORD|SECRET|TOKEN/.test(name)))
      expect(value, name).toMatch(/^\$\{\w+:\?.+\}$/)
    expect(JSON.stringify(services)).not.toMatch(/postgres:\/\/\w+:[^$]/)
  })

  it("gives settings that the program knows, the same to all, but one mailbox reader", () => {
    const filled = (service: Service) =>
      Object.fromEntries(
        Object.entries(service.environment ?? {}).map(([name, value]) => [name, filledIn(name, value)]),
      )
    for (const service of ours) expect(() => readSettings(filled(service))).not.toThrow()
    expect({ ...services.worker.environment }).toEqual({ ...services.web.environment, IMAP_URL: "" })
  })

  it("gives the bot nothing that it does not need: no power, no place to write but its data, no door but to this machine", () => {
    for (const service of ours) {
      expect(service).toMatchObject({ read_only: true, tmpfs: ["/tmp"], cap_drop: ["ALL"] })
      expect(service.security_opt).toContain("no-new-privileges:true")
      for (const volume of service.volumes ?? []) {
        const [from = "", to, mode] = volume.split(":")
        if (from.startsWith(".")) expect(mode, volume).toBe("ro")
        else expect({ known: from in volumes, to }).toEqual({ known: true, to: "/data" })
      }
    }
    for (const port of services.web.ports ?? []) expect(port).toMatch(/^127\.0\.0\.1:/)
    expect(services.worker.ports).toEqual([])
    expect(services.database.ports).toBeUndefined()
  })

  it("lets a process end what is under way: longer than the ten seconds that it takes", () => {
    for (const service of ours) expect(Number.parseInt(service.stop_grace_period ?? "0", 10)).toBeGreaterThan(10)
  })
})

function filledIn(name: string, value: string): string {
  if (name === "PUBLIC_URL") return "https://garden.example.org"
  return value.replace(/\$\{\w+(:\?[^}]*)?\}/g, "a-secret-of-some-length")
}
