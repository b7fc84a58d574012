import { readFileSync } from "node:fs"

/** One published value with the inputs that lead to it. */
export type Row = {
  id: string
  // biome-ignore lint/suspicious/noExplicitAny: every publication has inputs and results of its own.
  inputs?: any
  // biome-ignore lint/suspicious/noExplicitAny: as above.
  expected: any
  // biome-ignore lint/suspicious/noExplicitAny: as above.
  tolerance?: any
  source: string
  where?: string
  confidence: string
}

/** The rows of `shared/check-values/NAME.json`, by id; asking for a row that is not there throws. */
export function checkValues(name: string): { rows: Row[]; row(id: string): Row; title(row: Row): string } {
  const file = new URL(`../../shared/check-values/${name}.json`, import.meta.url)
  const { rows } = JSON.parse(readFileSync(file, "utf8")) as { rows: Row[] }
  return {
    rows,
    row(id) {
      const found = rows.find((row) => row.id === id)
      if (!found) throw new Error(`no row ${id} in ${name}`)
      return found
    },
    title: (row) => `${row.id} (${row.source}${row.where ? `, ${row.where}` : ""}; ${row.confidence})`,
  }
}
