import { readdirSync, readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"

const root = new URL("../", import.meta.url)
const read = (name: string) => readFileSync(new URL(name, root), "utf8")
const stated = JSON.parse(read("package.json")) as Record<
  "dependencies" | "devDependencies",
  Record<string, string>
> & {
  allowScripts: Record<string, boolean>
}
const lock = JSON.parse(read("package-lock.json")) as { packages: Record<string, { hasInstallScript?: boolean }> }

/** The rows of the table in DEVELOPERS.md: package and what it is for. */
const part = read("DEVELOPERS.md").split("## What it depends on, and why")[1]?.split("\n## ")[0] ?? ""
const rows = new Map(
  [...part.matchAll(/^\| `([^`]+)` \| ([^|]+) \|/gm)].map(([, name = "", use = ""]) => [name, use.trim()] as const),
)

/** All TypeScript below a folder, as one text. */
const textOf = (folder: string) =>
  readdirSync(new URL(folder, root), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => read(`${folder}${name}`))
    .join("\n")
const src = textOf("src/")
const test = textOf("test/")

/** Is it imported, required or resolved there, whole or a file of it, and not for its types alone? */
function isUsed(name: string, text: string): boolean {
  const escaped = name.replace(/[/.]/g, "\\$&")
  const from = `^(?:import|export) (?!type )[^;]*? from "${escaped}(?:/[^"]*)?"|^import "${escaped}`
  const asked = `(?:import|require|resolve)\\("${escaped}(?:/[^"]*)?"\\)`
  return new RegExp(`${from}|(?<!typeof )${asked}`, "m").test(text)
}

describe("the packages this one depends on", () => {
  it("are those for which DEVELOPERS.md gives the reason, and no other", () => {
    const all = [...Object.keys(stated.dependencies), ...Object.keys(stated.devDependencies)]
    expect([...rows.keys()].sort()).toEqual(all.sort())
    for (const [name, use] of rows) expect(use, name).not.toBe("")
  })

  it("are imported by the program where they come with it", () => {
    expect(Object.keys(stated.dependencies).filter((name) => !isUsed(name, src))).toEqual([])
  })

  it("are imported by tests, or named as a tool, where they are for development; the program imports none of them", () => {
    const names = Object.keys(stated.devDependencies)
    const idle = names.filter((name) => !rows.get(name)?.startsWith("tool: ") && !isUsed(name, test))
    expect(idle.filter((name) => name !== "axe-core" || !test.includes("axe-core/"))).toEqual([])
    expect(names.filter((name) => isUsed(name, src))).toEqual([])
  })

  it("have exact versions", () => {
    const versions = Object.values({ ...stated.dependencies, ...stated.devDependencies })
    expect(versions.filter((version) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([])
  })

  it("run no script at their installation, but the one that is argued for", () => {
    const scripted = Object.entries(lock.packages).filter(([, each]) => each.hasInstallScript)
    expect(scripted.map(([path]) => path)).toEqual(["node_modules/node"])
    expect(stated.allowScripts).toEqual({ node: true })
    expect(rows.get("node")).toContain("install script")
  })
})
