import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { createVitest, type TestSpecification, type Vitest } from "vitest/node"
import { type Mutation, type Site, watched } from "./mutations.ts"

/** What a test file comes by, and how long it takes. */
export type Covering = { test: string; ms: number; reached: number[] }

export type Asked =
  | { ask: "probe"; mutations: readonly Mutation[]; tests: readonly string[] }
  | { ask: "try"; file: string; code: string; tests: readonly string[] }
export type Answered = { covering: Covering[] } | { killedBy: string | null }

const root = new URL("../../", import.meta.url).pathname
/** Files whose source is handed out changed. */
const changed = new Map<string, (code: string) => string>()

/**
 * The tests, in a process of its own, since a mutation may never come to an end. Told by messages what to run, it answers
 * what was found.
 */
if (process.send) {
  let trying: Vitest | null = null
  process.on("message", async (asked: Asked) => {
    if (asked.ask === "probe") return void process.send?.({ covering: await probe(asked.mutations, asked.tests) })
    trying ??= await testing([])
    process.send?.({ killedBy: await tryOut(trying, root + asked.file, asked.code, asked.tests) })
  })
}

async function testing(setupFiles: string[]): Promise<Vitest> {
  const change = {
    name: "mutants",
    enforce: "pre" as const,
    transform: (code: string, id: string) => changed.get(id.split("?")[0] as string)?.(code),
  }
  return createVitest(
    "test",
    {
      config: false,
      root,
      watch: false,
      // Kept modules go by the file on disk, which no mutation changes.
      fsModuleCache: false,
      include: ["test/**/*.test.ts"],
      testTimeout: 20_000,
      reporters: [{}],
      pool: "threads",
      maxWorkers: 1,
      bail: setupFiles.length > 0 ? 0 : 1,
      setupFiles,
    },
    { plugins: [change], logLevel: "silent" },
  )
}

/** Runs the tests once on the source as it is, and tells which of them come by which mutation. A test that fails already is left out. */
async function probe(mutations: readonly Mutation[], filters: readonly string[]): Promise<Covering[]> {
  const folder = mkdtempSync(join(tmpdir(), "mutants-"))
  process.env.REACHED_FOLDER = folder
  const sites = Map.groupBy(
    mutations.map(({ file, start, end }, number) => ({ file, start, end, number })),
    ({ file }) => root + file,
  )
  for (const [file, all] of sites) changed.set(file, (code) => watched(code, all as Site[]))
  const vitest = await testing([join(root, "test/mutants/reached.ts")])
  const { testModules } = await vitest.runTestSpecifications(await vitest.globTestSpecifications([...filters]))
  await vitest.close()
  changed.clear()
  const reachedBy = new Map<string, number[]>()
  for (const name of readdirSync(folder)) {
    const { file, reached } = JSON.parse(readFileSync(join(folder, name), "utf8")) as {
      file: string
      reached: number[]
    }
    reachedBy.set(file, reached)
  }
  rmSync(folder, { recursive: true })
  return testModules.flatMap((module) => {
    const { duration, collectDuration, setupDuration } = module.diagnostic()
    if (!module.ok()) console.error(`${module.relativeModuleId} fails without any mutation and is left out`)
    const reached = reachedBy.get(module.moduleId) ?? []
    return module.ok() ? [{ test: module.moduleId, ms: duration + collectDuration + setupDuration, reached }] : []
  })
}

/** Runs the tests with another source in place of a file; the first file that fails, or null where none does. */
async function tryOut(vitest: Vitest, file: string, code: string, tests: readonly string[]): Promise<string | null> {
  changed.set(file, () => code)
  vitest.invalidateFile(file)
  const project = vitest.projects[0] as Vitest["projects"][number]
  const specs: TestSpecification[] = tests.map((test) => project.createSpecification(test))
  const { testModules, unhandledErrors } = await vitest.runTestSpecifications(specs)
  changed.delete(file)
  vitest.invalidateFile(file)
  const failed = testModules.find((module) => !module.ok())
  if (failed) return failed.relativeModuleId
  return unhandledErrors.length > 0 ? "an error outside of any test" : null
}
