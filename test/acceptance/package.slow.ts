import { type SpawnSyncReturns, spawn, spawnSync } from "node:child_process"
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from "node:fs"
import { delimiter, dirname, join } from "node:path"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { planSchema } from "../../src/season/plan-schema.ts"
import { freshFolder } from "./program.ts"

const ROOT = new URL("../..", import.meta.url).pathname
/** Bytes that a stranger downloads, and that then lie on the disk, without the packages it depends on. */
const MOST = { packed: 2_500_000, unpacked: 7_000_000 }
/** The Node of this run first, as where Node 24 is installed. */
const PATH = [dirname(process.execPath), ...(process.env.PATH ?? "").split(delimiter)].join(delimiter)
const OURS = /^(RYEBELL|TWILIO|SMTP|IMAP|DKIM|WEATHER|MAIL|DATABASE_URL|PUBLIC_URL|HOST|PORT|LOG_LEVEL|SECRET_KEY|npm_)/

function environment(over: Record<string, string> = {}): Record<string, string> {
  const own = Object.entries(process.env).filter(([name]) => !OURS.test(name)) as [string, string][]
  return { ...Object.fromEntries(own), PATH, PORT: "0", ...over }
}

function run(program: string, args: string[], cwd: string, env = environment()): SpawnSyncReturns<string> {
  return spawnSync(program, args, { cwd, env, encoding: "utf8", timeout: 400_000, maxBuffer: 64_000_000 })
}

const reached = run("npm", ["view", "zod", "version"], freshFolder("package-reach"))
const UNREACHED = reached.status === 0 ? null : "skipped: no packages can be fetched from here"

/** A Node on this machine that is too old, where there is one. */
const oldNode = PATH.split(delimiter)
  .map((folder) => join(folder, "node"))
  .filter((file) => existsSync(file))
  .find((file) => Number(/^v(\d+)/.exec(run(file, ["--version"], ROOT).stdout)?.[1] ?? 99) < 24)

type Packed = { filename: string; size: number; unpackedSize: number; files: { path: string }[] }

describe("the package as npm packs it", () => {
  const folder = freshFolder("package")
  const home = join(folder, "home")
  const installed = join(home, "node_modules/ryebell")
  let packed: Packed

  beforeAll(() => {
    const ran = run("npm", ["pack", "--pack-destination", folder, "--json"], ROOT)
    expect(ran.status, ran.stderr).toBe(0)
    const said = JSON.parse(ran.stdout)
    packed = (Array.isArray(said) ? said[0] : Object.values(said)[0]) as Packed
  })

  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  it(`is under ${MOST.packed / 1e6} MB packed and ${MOST.unpacked / 1e6} MB unpacked`, () => {
    console.log(`${packed.size} bytes packed, ${packed.unpackedSize} unpacked, ${packed.files.length} files`)
    expect(packed.size).toBeLessThan(MOST.packed)
    expect(packed.unpackedSize).toBeLessThan(MOST.unpacked)
  })

  it("holds the program, the data, the example and the licence; no tests, no maps, no source that nothing reads", () => {
    const paths = packed.files.map((file) => file.path)
    expect(paths).toEqual(
      expect.arrayContaining([
        "LICENSE",
        "README.md",
        "CHANGELOG.md",
        "shared/NOTICE",
        "shared/sources.json",
        "config/garden.yaml",
        "src/start.mjs",
        "dist/main.js",
        "dist/store/sqlite/0001.sql",
      ]),
    )
    expect(
      paths.filter((path) => /(^|\/)(test|node_modules|data)\/|\.map$|\.ts$|\.env$|\.db$|secret/.test(path)),
    ).toEqual([])
  })

  describe.skipIf(UNREACHED !== null)(UNREACHED ?? "installed elsewhere", () => {
    beforeAll(() => {
      mkdirSync(home)
      expect(run("npm", ["init", "-y"], home).status).toBe(0)
      const ran = run("npm", ["install", join(folder, packed.filename), "--no-audit", "--no-fund"], home)
      expect(ran.status, ran.stderr).toBe(0)
      mkdirSync(join(home, "config"))
      copyFileSync(join(installed, "config/garden.yaml"), join(home, "config/garden.yaml"))
    })

    const ryebell = (...args: string[]) =>
      run("npx", ["ryebell", ...args], home, environment({ RYEBELL_DATA: join(home, "data") }))

    it("names nothing of the machine that packed it", () => {
      const text = readdirSync(installed, { recursive: true, withFileTypes: true })
        .filter((each) => each.isFile() && !each.parentPath.includes("/node_modules/ryebell/node_modules"))
        .filter((each) => /\.(js|mjs|json|md|ya?ml|txt|sql)$/.test(each.name) || !each.name.includes("."))
        .map((each) => join(each.parentPath, each.name))
      expect(text.length).toBeGreaterThan(500)
      expect(text.filter((file) => readFileSync(file, "utf8").includes(ROOT.replace(/\/$/, "")))).toEqual([])
    })

    it("says what it is and what it can do", () => {
      const { version } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"))
      expect(ryebell("--version")).toMatchObject({ status: 0, stdout: `${version}\n` })
      const help = ryebell("--help")
      expect(help.status).toBe(0)
      for (const word of ["run", "plan", "season", "digest", "check", "serve-check"])
        expect(help.stdout).toContain(word)
    })

    it("checks a garden, plans it by the published form, and plays two months of it", () => {
      const checked = ryebell("check")
      expect(checked.status, checked.stderr).toBe(0)
      expect(checked.stdout).toContain("Long Acre")
      const planned = ryebell("plan", "--on", "2026-05-10", "--json")
      expect(planned.status, planned.stderr).toBe(0)
      const plan = planSchema.parse(JSON.parse(planned.stdout))
      expect(plan.beds.length).toBeGreaterThan(2)
      const season = ryebell("season", "--from", "2026-04-01", "--to", "2026-05-31")
      expect(season.status, season.stderr).toBe(0)
      expect(season.stdout.match(/South bed/g)?.length).toBeGreaterThan(3)
    })

    it("runs the example in the terminal, takes an answer, and writes only into its data folder", async () => {
      const before = readdirSync(home).sort()
      const data = join(folder, "data-of-the-example")
      const said = await example(home, data)
      expect(said).toMatch(/text to Ines \(\d+ characters, [12] segments?\)/)
      expect(said).toContain("Reply UNDO")
      expect(
        readdirSync(home)
          .filter((name) => name !== "data")
          .sort(),
      ).toEqual(before.filter((name) => name !== "data"))
      expect(existsSync(data)).toBe(true)
    })

    it.skipIf(!oldNode)(
      `under a Node that is too old says what to do (${oldNode ? "found one" : "none on this machine"})`,
      () => {
        const ran = run(oldNode as string, [join(installed, "src/start.mjs"), "--version"], home)
        expect(ran.status).toBe(1)
        expect(ran.stderr).toContain("Ryebell needs Node 24 or newer; this is Node ")
        expect(ran.stderr).toContain("Where Ryebell is installed as a package, install Node 24 or newer there")
      },
    )
  })
})

/** Starts the installed bot's example, answers its first text, and stops it; all that it said. */
function example(cwd: string, data: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [join(cwd, "node_modules/.bin/ryebell"), "--example"], {
      cwd,
      env: environment({ RYEBELL_DATA: data }),
    })
    let said = ""
    let answered = false
    const timer = setTimeout(() => child.kill("SIGKILL"), 200_000)
    const hear = (chunk: Buffer) => {
      said += chunk
      if (!answered && said.includes("text to Ines")) {
        answered = true
        child.stdin.write("watered frame\n")
      }
      if (answered && said.includes("Reply UNDO")) child.kill("SIGTERM")
    }
    child.stdout.on("data", hear)
    child.stderr.on("data", hear)
    child.on("error", reject)
    child.on("close", (status) => {
      clearTimeout(timer)
      if (status === 0) resolve(said)
      else reject(new Error(`the example ended with ${status}:\n${said}`))
    })
  })
}
