import { readFileSync } from "node:fs"
import { registerHooks } from "node:module"
import { fileURLToPath } from "node:url"
import { BUGS, type Plant } from "./bugs.ts"

/**
 * Loaded with `--import` before the program, in tests only: puts the modules with named steps in the place of the real
 * ones, and plants a bug into the source where RYEBELL-free argument `--plant=NAME` asks for one. The program itself knows
 * nothing of it.
 */
const here = (file: string) => new URL(file, import.meta.url).href
const src = (file: string) => new URL(`../../src/${file}`, import.meta.url).href

const INSTEAD = new Map([
  [src("store/open.ts"), here("stepped-store.ts")],
  [src("store/sqlite/connection.ts"), here("stepped-connection.ts")],
  [src("channels/sms-hooks.ts"), here("stepped-hooks.ts")],
  [src("garden/read.ts"), here("stepped-garden.ts")],
])

const name = process.argv.find((arg) => arg.startsWith("--plant="))?.slice("--plant=".length)
const plants: readonly Plant[] = name === undefined ? [] : (BUGS[name]?.plants ?? [])
if (name !== undefined && plants.length === 0) throw new Error(`no bug of that name: ${name}`)

registerHooks({
  resolve(specifier, context, next) {
    const found = next(specifier, context)
    const instead = INSTEAD.get(found.url)
    return instead && context.parentURL !== instead ? { ...found, url: instead } : found
  },
  load(url, context, next) {
    const here = plants.filter((plant) => src(plant.file) === url)
    if (here.length === 0) return next(url, context)
    return { format: "module-typescript", shortCircuit: true, source: here.reduce(planted, read(url)) }
  },
})

function read(url: string): string {
  return readFileSync(fileURLToPath(url), "utf8")
}

/** A bug whose place is gone is no bug any more: the test must say so and not pass. */
function planted(source: string, { file, from, to }: Plant): string {
  if (source.split(from).length !== 2) throw new Error(`the planted bug finds its place in ${file} not once: ${from}`)
  return source.replace(from, () => to)
}
