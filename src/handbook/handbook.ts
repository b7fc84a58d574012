import type { Climate } from "./climate.ts"
import type { Crop } from "./crop.ts"
import type { Development } from "./development.ts"
import type { Species } from "./species.ts"

/** A work that figures come from. */
export type Source = {
  key: string
  author: string
  title: string
  year?: number
  where?: string
  url?: string
  licence?: string
  opened: boolean
}

/** A place on the map; height is optional. */
export type Spot = { lat: number; lon: number; elev_m?: number }

/** Everything that came from the literature, read once from `shared/` and never changed. */
export type Handbook = {
  species: ReadonlyMap<string, Species>
  crops: ReadonlyMap<string, Crop>
  /** How each species develops: fitted or published parameters, `shared/development/ID.json`. */
  development: ReadonlyMap<string, Development>
  sources: ReadonlyMap<string, Source>
  climates: Climates
  /** `shared/tables/NAME.json` as read; each room that uses one parses it with its own schema. */
  table(name: string): unknown
}

export type Climates = {
  byId(id: string): Climate | undefined
  ids(): Iterable<string>
  /** Climate of a spot from the nearest stations by distance and height (inverse-distance weights, 6.5 C per km); says which in `made`. */
  at(spot: Spot): Climate
}
