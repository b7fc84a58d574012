import type { Climate } from "../handbook/climate.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { GardenPlace } from "./garden.ts"

/**
 * The climate a garden is reckoned with: the bundled one it names, the gardener's own monthly figures (with the spread
 * of the nearest stations), or what the nearest stations give for its place and height.
 */
export function climateOf(place: GardenPlace, handbook: Handbook): Climate {
  const spot = { lat: place.latitude, lon: place.longitude, ...(place.elev_m === null ? {} : { elev_m: place.elev_m }) }
  if (place.normals === null) return handbook.climates.at(spot)
  if (typeof place.normals === "string") {
    const named = handbook.climates.byId(place.normals)
    if (named) return named
    throw new RangeError(`no bundled climate ${place.normals}; the garden file reader lets no such name through`)
  }
  const near = handbook.climates.at(spot)
  return {
    ...near,
    id: "own",
    name: "your own figures",
    where: "",
    tmin_c: place.normals.tmin_c,
    tmax_c: place.normals.tmax_c,
    rain_mm: place.normals.rain_mm,
    source: "GARDENER",
    made: `your own monthly figures, with the day-to-day spread of ${near.name}`,
  }
}
