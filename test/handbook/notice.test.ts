import { readdirSync, readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { sourcesOf } from "./lint/entries.ts"
import { handbook, sharedFolder } from "./shared.ts"

const read = (name: string) => readFileSync(new URL(name, sharedFolder), "utf8")
const notice = read("NOTICE")
const flat = notice.replace(/\s+/g, " ")
/** The lines that stand at the margin head a part: which files it speaks of. */
const heads = notice.split("\n").filter((line) => /^[a-z]/.test(line))

test("every folder of bundled data, and every file that came as a whole, has its part", () => {
  const folders = readdirSync(sharedFolder, { withFileTypes: true }).filter((each) => each.isDirectory())
  const said = (name: string) => heads.some((head) => head.includes(name))
  const silent = folders.flatMap(({ name }) => {
    if (name !== "climates") return [`${name}/`]
    return readdirSync(new URL(`${name}/`, sharedFolder)).map((file) => `${name}/${file}`)
  })
  expect(silent.filter((name) => !said(name))).toEqual([])
})

test("every source that a species, crop, clock, table or climate names is in sources.json", () => {
  const folders = ["species", "crops", "development", "tables", "climates"]
  const named = folders.flatMap((folder) =>
    readdirSync(new URL(`${folder}/`, sharedFolder))
      .filter((name) => name.endsWith(".json"))
      .flatMap((name) =>
        sourcesOf(JSON.parse(read(`${folder}/${name}`))).flatMap(({ keys }) =>
          keys.map((key) => ({ file: `${folder}/${name}`, key })),
        ),
      ),
  )
  expect(named.length).toBeGreaterThan(1000)
  expect(named.filter(({ key }) => !handbook.sources.has(key))).toEqual([])
})

test("every source with a licence is told of with it, and every licence of a table word for word", () => {
  const licences: Record<string, [RegExp, RegExp]> = {
    "NOAA-NORMALS": [/U\.S\. Climate Normals 1981-2010/, /Work of the US government, public domain/],
    "DWD-CLIMAT": [/Source: Deutscher Wetterdienst/, /CC BY 4\.0/],
    "IANA-TZDB": [/Time Zone Database, release 2025b/, /public domain/],
  }
  const licensed = [...handbook.sources.values()].filter((source) => "licence" in source && source.licence)
  expect(licensed.map((source) => source.key).sort()).toEqual(Object.keys(licences).sort())
  for (const [key, words] of Object.entries(licences)) for (const word of words) expect(flat, key).toMatch(word)
  const { licence } = JSON.parse(read("tables/ordinary-words-en.json")) as { licence: string }
  expect(flat).toContain(licence.slice(licence.indexOf("Copyright")))
})
