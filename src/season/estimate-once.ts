import type { KnownWeather } from "../agronomy/weather-series.ts"
import type { Species } from "../handbook/species.ts"
import { estimateStages } from "./estimate.ts"
import { learnedKey } from "./learned.ts"
import { seasonOf } from "./sowing-season.ts"
import type { EstimateInput, StageEstimates } from "./stage-estimates.ts"

/** A garden plans its sowings every day, and most of what they hang on is as it was the day before. */
const MOST_KEPT = 2_000
const kept = new WeakMap<KnownWeather, WeakMap<Species, Map<string, StageEstimates>>>()

/**
 * The same as `estimateStages`, worked out once for the same weather, sowing and reports. Where nothing was measured or
 * forecast the day itself changes nothing: an estimate then holds until somebody reports something.
 */
export function estimateOnce(input: EstimateInput): StageEstimates {
  const { weather, species, sown, on, bed } = input
  const known = mapFor(weather, species)
  const seen = input.observed.filter((one) => one.on <= on).map((one) => `${one.what} ${one.on}`)
  const lean = JSON.stringify(input.learned?.get(learnedKey(species.id, seasonOf(sown, weather.lat))) ?? null)
  const day = weather.observed || weather.forecast ? on : ""
  const key = [sown, bed, day, lean, input.development ? "" : "plain", ...seen].join("|")
  const before = known.get(key)
  if (before) return before
  if (known.size >= MOST_KEPT) known.clear()
  const made = estimateStages(input)
  known.set(key, made)
  return made
}

function mapFor(weather: KnownWeather, species: Species): Map<string, StageEstimates> {
  const ofWeather = kept.get(weather) ?? new WeakMap<Species, Map<string, StageEstimates>>()
  kept.set(weather, ofWeather)
  const ofSpecies = ofWeather.get(species) ?? new Map<string, StageEstimates>()
  ofWeather.set(species, ofSpecies)
  return ofSpecies
}
