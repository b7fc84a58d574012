import { cpSync, readdirSync, symlinkSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { freshFolder } from "./program.ts"

const PROJECT = new URL("../../", import.meta.url).pathname

/** What the next version might add to the tables: all that a later step may do, and while many work in them. */
const STEPS = {
  postgres: `
    create table ryebell.visit (garden text not null, at timestamptz not null);
    create index visit_by_time on ryebell.visit (at);
    alter table ryebell.outgoing add column priority integer not null default 0;
    alter table ryebell.garden add column noted text;
    alter table ryebell.reminder add column noted text;`,
  sqlite: `
    create table visit (garden text not null, at integer not null) strict;
    alter table outgoing add column priority integer not null default 0;`,
} as const

/**
 * A copy of the program that is one version on: its tables have one step more in both stores. Gives the file that starts it,
 * and the version that this makes of each store.
 */
export function newerProgram(): { start: string; versions: Record<keyof typeof STEPS, number> } {
  const folder = freshFolder("newer")
  cpSync(join(PROJECT, "src"), join(folder, "src"), { recursive: true })
  cpSync(join(PROJECT, "package.json"), join(folder, "package.json"))
  for (const name of ["shared", "config", "node_modules"]) symlinkSync(join(PROJECT, name), join(folder, name))
  const add = (store: keyof typeof STEPS): number => {
    const steps = join(folder, "src", "store", store)
    const version = readdirSync(steps).filter((name) => name.endsWith(".sql")).length + 1
    writeFileSync(join(steps, `${String(version).padStart(4, "0")}.sql`), STEPS[store])
    return version
  }
  return {
    start: join(folder, "src", "start.mjs"),
    versions: { postgres: add("postgres"), sqlite: add("sqlite") },
  }
}
