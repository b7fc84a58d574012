import { readdirSync, readFileSync } from "node:fs"
import { join } from "node:path"
import { parseArgs } from "node:util"
import { type Mutation, mutated, mutationsOf } from "./mutations.ts"
import { drawn, wilson } from "./sample.ts"
import type { Covering } from "./session.ts"
import { Tests } from "./tests.ts"

const USAGE = `usage: node test/mutants/run.ts ROOM[/FILE.ts]... [--sample N] [--seed S] [--list]

Puts one small wrong at a time into the source of a room (a comparison, a condition, a sum, a boolean, what is returned), runs
the tests that come by that place, and counts the wrongs that no test notices.
  ROOM       of src/: agronomy, season, replies; or a file of it
  --sample   how many of all mutations are drawn (150); 0: all
  --seed     the number of the draw (1): the same number draws the same from the same source
  --tests    where the tests are, divided by commas (those of the room and of what is built on it)
  --budget   seconds of tests for a mutation (20): of all that come by, the room's own first, then the quickest
  --list     print the mutations only`

/** The rooms whose tests are run: the room itself and what is built on it, as far as that is quick. */
const TESTS: Record<string, readonly string[]> = {
  agronomy: ["agronomy", "handbook", "season"],
  season: ["season", "handbook", "reminders", "acceptance"],
  replies: ["replies", "wording"],
}

const root = new URL("../../", import.meta.url).pathname
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    sample: { type: "string", default: "150" },
    seed: { type: "string", default: "1" },
    tests: { type: "string" },
    budget: { type: "string", default: "20" },
    list: { type: "boolean", default: false },
    help: { type: "boolean", default: false },
  },
})

if (values.help || positionals.length === 0) console.log(USAGE)
else await main()

async function main(): Promise<void> {
  // Read once, so that whoever goes on working meanwhile moves no place.
  const sources = new Map(positionals.flatMap(sourcesOf).map((file) => [file, sourceOf(file)]))
  const all = [...sources].flatMap(([file, code]) => mutationsOf(file, code))
  const size = Number(values.sample)
  const mutations = size === 0 ? all : drawn(all, size, Number(values.seed))
  if (values.list) return void console.log(mutations.map(show).join("\n"))
  const running = new Tests()
  const covering = await running.probe(mutations, testsFor(positionals))
  const survivors: string[] = []
  let unreached = 0
  for (const [number, mutation] of mutations.entries()) {
    const tests = within(
      Number(values.budget) * 1000,
      covering.filter(({ reached }) => reached.includes(number)).sort(nearest(mutation)),
    )
    if (tests.length === 0) unreached += 1
    const code = mutated(sources.get(mutation.file) as string, mutation)
    const killedBy = tests.length === 0 ? null : await running.tryOut(mutation.file, code, tests)
    if (killedBy === null) survivors.push(show(mutation, number) + (tests.length === 0 ? "  (no test comes by)" : ""))
    console.error(`${number + 1}/${mutations.length} ${killedBy ?? `SURVIVED ${show(mutation, number)}`}`)
  }
  running.end()
  const killed = mutations.length - survivors.length
  const { low, high } = wilson(killed, mutations.length)
  const percent = (part: number) => `${(100 * part).toFixed(1)} %`
  console.log(survivors.join("\n"))
  console.log(
    `${positionals.join(" ")}: ${killed} of ${mutations.length} noticed, ${percent(killed / mutations.length)} ` +
      `(95 % interval ${percent(low)} to ${percent(high)}); ${unreached} places that no test comes by; ` +
      `drawn from ${all.length} with seed ${values.seed}`,
  )
}

function testsFor(places: readonly string[]): string[] {
  if (values.tests !== undefined) return values.tests.split(",")
  const rooms = places.map((place) => place.split("/")[0] as string)
  return [...new Set(rooms.flatMap((room) => TESTS[room] ?? [room]))].map((room) => `test/${room}/`)
}

/** As many of them as that time holds; the first always. */
function within(budget_ms: number, tests: readonly Covering[]): Covering[] {
  let spent = 0
  return tests.filter(({ ms }, place) => {
    spent += ms
    return place === 0 || spent <= budget_ms
  })
}

/** The room's own tests first, then the quickest. */
function nearest({ file }: Mutation) {
  const own = `/test/${file.split("/")[1]}/`
  return (a: Covering, b: Covering) => Number(b.test.includes(own)) - Number(a.test.includes(own)) || a.ms - b.ms
}

function sourcesOf(place: string): string[] {
  if (place.endsWith(".ts")) return [`src/${place}`]
  return readdirSync(join(root, "src", place), { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".ts"))
    .map((file) => `src/${place}/${file}`)
    .sort()
}

function sourceOf(file: string): string {
  return readFileSync(join(root, file), "utf8")
}

function show({ file, line, from, to }: Mutation, number: number): string {
  const short = (text: string) => {
    const flat = text.replace(/\s+/g, " ")
    return flat.length <= 90 ? flat : `${flat.slice(0, 60)} ... ${flat.slice(-25)}`
  }
  return `#${number} ${file}:${line}  ${short(from)}  ->  ${short(to)}`
}
