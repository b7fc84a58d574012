import { mkdtempSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { openMemoryStore, openStore, type StoreOptions } from "../../src/store/open.ts"
import { storeContract } from "../contracts/store.ts"

storeContract("in memory", { restart: false, share: false }, async () => {
  const store = openMemoryStore()
  return { store, remove: () => store.close() }
})

storeContract("in a file", { restart: true, share: false }, () => inFile({}))

storeContract("in a file on a shared disk", { restart: true, share: false }, () =>
  inFile({ statfs: () => ({ type: 0x6969, bavail: 1e6, bsize: 4096 }) }),
)

async function inFile(more: Partial<StoreOptions>) {
  const folder = mkdtempSync(join(tmpdir(), "ryebell-store-"))
  let store = await openStore({ ...more, folder })
  return {
    store,
    restart: async () => {
      await store.close()
      store = await openStore({ ...more, folder })
      return store
    },
    remove: async () => {
      await store.close()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}
