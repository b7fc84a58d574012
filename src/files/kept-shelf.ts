import type { GardenShelf, KeptGarden, Store } from "../bot/needs.ts"
import type { Garden } from "../garden/garden.ts"
import { readGarden } from "../garden/read.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { Problem } from "../values/problem.ts"
import type { OpenShelf } from "./garden-shelf.ts"

/** This in place of a path: no garden is in a file, the store keeps them all. */
export const NO_FILES = "none"

/** The shelf of no files. */
export function noFiles(): OpenShelf {
  return {
    all: () => [],
    byId: () => undefined,
    version: () => 1,
    warnings: () => [],
    look: async () => {},
    close: async () => {},
  }
}

export type KeptShelfOptions = {
  files: GardenShelf
  store: Pick<Store, "keptGardens">
  handbook: Handbook
  /** Told of a kept garden that cannot be read by this program; the last good one goes on. */
  onBroken?(id: string, problems: readonly Problem[]): void
}

/**
 * The gardens of files and those that the store keeps, as one shelf. Where both have an id the file counts: its owner can
 * see it. `refresh` takes in what this process and others have kept since.
 */
export async function openKeptShelf({
  files,
  store,
  handbook,
  onBroken,
}: KeptShelfOptions): Promise<GardenShelf & Required<Pick<GardenShelf, "refresh" | "keptAs" | "guestsOf">>> {
  const kept = new Map<string, { garden: Garden; as: KeptGarden }>()
  let edition = 0
  let changes = 0
  let known: { version: number; all: Garden[]; byId: Map<string, Garden>; guests: Map<string, Garden[]> } | null = null

  async function refresh(): Promise<void> {
    for (const each of await store.keptGardens(edition)) {
      edition = Math.max(edition, each.edition)
      const read = readGarden(each.text, `${each.id}.yaml`, handbook)
      if ("problems" in read) {
        onBroken?.(each.id, read.problems)
        continue
      }
      kept.set(each.id, { garden: read.garden, as: each })
      changes += 1
    }
  }

  function version(): number {
    return files.version() + changes
  }

  function now() {
    if (known?.version === version()) return known
    const byId = new Map(files.all().map((garden) => [garden.id, garden]))
    const guests = new Map<string, Garden[]>()
    for (const { garden, as } of kept.values()) {
      if (byId.has(garden.id)) continue
      byId.set(garden.id, garden)
      if (as.host === null) continue
      const there = guests.get(as.host)
      if (there) there.push(garden)
      else guests.set(as.host, [garden])
    }
    known = { version: version(), all: [...byId.values()], byId, guests }
    return known
  }

  await refresh()
  return {
    all: () => now().all,
    byId: (id) => now().byId.get(id),
    version,
    refresh,
    keptAs: (garden) => (files.byId(garden) ? null : (kept.get(garden)?.as ?? null)),
    guestsOf: (garden) => now().guests.get(garden) ?? [],
  }
}
