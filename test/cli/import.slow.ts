import { readdirSync, readFileSync } from "node:fs"
import { join } from "node:path"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import type { World } from "../../src/cli/command.ts"
import { exportAll } from "../../src/cli/export.ts"
import { importGardens } from "../../src/cli/import.ts"
import { openStore } from "../../src/store/open.ts"
import { handbook } from "../given.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"
import { temporaryFolders } from "../store/folders.ts"
import { reply, sent } from "../store/samples.ts"

const temporary = temporaryFolders()
const PLOT =
  "garden: Sam\nplace: { latitude: 40.04, longitude: -76.31, zone: America/New_York }\nbeds: [{ id: long, size: 4 x 8 ft }] # ñ\n"

function worldOf(data: string, databaseUrl: string | null): World {
  const silent = () => {}
  return { settings: { data, databaseUrl, garden: join(data, "none") }, handbook, out: silent, err: silent } as never
}

const filesIn = (folder: string) =>
  readdirSync(folder)
    .sort()
    .map((name) => [name, readFileSync(join(folder, name), "utf8")])

describe.skipIf(WITHOUT_POSTGRES)(WITHOUT_POSTGRES ?? "gardens from files to a server and back", () => {
  let server: PostgresServer
  beforeAll(async () => {
    server = await startPostgres()
  })
  afterAll(() => server?.remove())

  it("are the same to the byte after both ways", async () => {
    const data = temporary()
    const store = await openStore({ folder: data })
    for (let i = 0; i < 20; i += 1)
      await store.keepGarden({ id: `acre-${i}`, host: i % 2 ? "acre" : null, text: PLOT }, null)
    await store.append(
      Array.from({ length: 3000 }, (_, i) => (i % 3 ? reply(`text ${i} \u{1F33E}`, `acre-${i % 20}`) : sent(`k${i}`))),
    )
    await store.close()
    const url = server.url(await server.create())
    const [first, second, third] = ["a", "b", "c"].map((name) => join(temporary(), name)) as [string, string, string]
    await exportAll.run(["--gardens", first], worldOf(data, null))
    await importGardens.run([first], worldOf(data, url))
    await exportAll.run(["--gardens", second], worldOf(data, url))
    const other = temporary()
    await importGardens.run([second], worldOf(other, null))
    await exportAll.run(["--gardens", third], worldOf(other, null))
    expect(filesIn(second)).toEqual(filesIn(first))
    expect(filesIn(third)).toEqual(filesIn(first))
  })
})
