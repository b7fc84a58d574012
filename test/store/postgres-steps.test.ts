import { describe, expect, it } from "vitest"
import { knownPostgresSteps } from "../../src/store/postgres.ts"

/** What a step may do while workers of the version before go on: theirs are other columns and tables, or none at all. */
const ADDS = [
  /^create (unique )?index /,
  /^create table /,
  /^create function /,
  /^insert into ryebell\.\w+ /,
  /^alter table ryebell\.\w+ add column \w+ [a-z ]+( default .+| not null default .+)?$/,
]

/** Statements of a step in lower case, without comments. */
function statementsOf(sql: string): string[] {
  return sql
    .replace(/--.*$/gm, "")
    .toLowerCase()
    .split(";")
    .map((statement) => statement.replace(/\s+/g, " ").trim())
    .filter((statement) => statement !== "")
}

function onlyAdds(sql: string): boolean {
  return statementsOf(sql).every(
    (statement) => ADDS.some((form) => form.test(statement)) && !/not null$/.test(statement),
  )
}

describe("steps of the shared database", () => {
  it("only add after the first, so that workers of the version before go on", () => {
    const [, ...later] = knownPostgresSteps()
    expect(later.length).toBeGreaterThan(0)
    for (const step of later) expect(onlyAdds(step.sql), `step ${step.version}`).toBe(true)
  })

  it("would be told from steps that take away", () => {
    for (const wrong of [
      "drop table ryebell.turn",
      "alter table ryebell.outgoing drop column fate",
      "alter table ryebell.outgoing rename column fate to end_of_it",
      "alter table ryebell.outgoing add column priority integer not null",
      "alter table ryebell.outgoing alter column person drop default",
      "update ryebell.outgoing set state = 'gone'",
      "create table ryebell.a (b text); delete from ryebell.memory",
    ])
      expect(onlyAdds(wrong), wrong).toBe(false)
    expect(onlyAdds("alter table ryebell.outgoing add column priority integer not null default 0")).toBe(true)
  })
})
