import {
  availableNitrogen,
  dryFromFresh,
  dryFromHeight,
  methodShare,
  nitrogenPercent,
  type ResidueStage,
} from "../agronomy/nitrogen.ts"
import { middle } from "../handbook/figure.ts"
import type { Day } from "../values/day.ts"
import type { NitrogenPlan } from "./bed-plan.ts"
import type { Rest } from "./rest.ts"
import { shares } from "./rest.ts"
import type { Setting } from "./setting.ts"
import { factsOf, type Member, type Stand } from "./stand.ts"
import { speciesWords } from "./words.ts"

/** Dry matter of a stand in g per m2, and how it is known. */
export type DryMatter = { g_per_m2: number; known: "weighed" | "height" | "usual" }

/** Dry matter from what was measured last by a day, else what such a stand usually has. */
function dryMatter(
  stand: Stand,
  members: readonly Member[],
  stage: ResidueStage,
  by: Day,
  setting: Setting,
): DryMatter {
  const table = setting.nitrogen
  const measured = factsOf(stand, "measured").filter((fact) => fact.on <= by)
  const weighed = measured.findLast((fact) => fact.what === "fresh_g_per_m2" || fact.what === "fresh_g")
  const height = measured.findLast((fact) => fact.what === "height_cm")
  if (weighed && (!height || weighed.on >= height.on)) {
    const area = weighed.what === "fresh_g" ? table.quadrat_m2.value : 1
    return { g_per_m2: dryFromFresh(weighed.value, area, table.dryShare[stage]), known: "weighed" }
  }
  const kind = tallest(members)
  if (height && kind) {
    const cover = measured.findLast((fact) => fact.what === "cover_percent")
    const share = Math.min(1, Math.max(0, (cover?.value ?? 100) / 100))
    return { g_per_m2: dryFromHeight(height.value, share, kind, table), known: "height" }
  }
  return { g_per_m2: usualDryMatter(members, stage, setting), known: "usual" }
}

/** Nitrogen for the next crop, by the line of PNW 636 times what the way of killing leaves. */
export function nitrogenCredit(
  stand: Stand,
  members: readonly Member[],
  rest: Rest,
  setting: Setting,
): NitrogenPlan | null {
  if (members.length === 0) return null
  const table = setting.nitrogen
  const dry = dryMatter(stand, members, rest.stage, rest.from, setting)
  const percent = nitrogenPercent(rest.cn.likely, table.carbon_percent.value)
  const warm = setting.weather.climate.tmax_c.some(
    (tmax, month) => (tmax + setting.weather.climate.tmin_c[month]!) / 2 > table.method.warmMonth_c,
  )
  const share = rest.winterKilled ? table.method.winterKilled : methodShare(rest.then, warm, table)
  const likely = availableNitrogen(dry.g_per_m2, percent, table) * share
  const [least, most] = dry.known === "usual" ? table.unmeasured_g_per_m2.range : [1, 1]
  const [low, high] = table.available.range
  const what = speciesWords(
    setting.handbook,
    members.map((member) => member.species.id),
  )
  const from = { weighed: "from your weighed sample", height: "from the height you gave", usual: "for a usual stand" }[
    dry.known
  ]
  const why =
    likely < 0.05
      ? `About ${Math.round(dry.g_per_m2)} g of dry ${what} per m2 (${from}) at a C:N of about ${Math.round(rest.cn.likely)} set no nitrogen free this season.`
      : `About ${Math.round(dry.g_per_m2)} g of dry ${what} per m2 (${from}) with ${percent.toFixed(1)} percent nitrogen.`
  return {
    credit_g_per_m2: {
      low: round(likely * (dry.known === "usual" ? Math.min(least, low) : low)),
      likely: round(likely),
      high: round(likely * (dry.known === "usual" ? Math.max(most, high) : high)),
    },
    why,
  }
}

/** Dry matter of a usual stand: a legume's from the nitrogen that its tops usually hold, others by stage. */
function usualDryMatter(members: readonly Member[], stage: ResidueStage, setting: Setting): number {
  const table = setting.nitrogen
  const byStage = table.unmeasured_g_per_m2
  const grown = byStage[stage] / byStage.flowering
  return shares(members).reduce((sum, { species, share }) => {
    const held = species.nitrogen_g_per_m2
    if (!held) return sum + share * byStage[stage]
    const percent = nitrogenPercent(middle(species.cn.flowering), table.carbon_percent.value)
    return sum + (share * grown * middle(held) * 100) / percent
  }, 0)
}

/** The kind whose height is the stand's: the grass of a mix, since it stands above the others. */
function tallest(members: readonly Member[]): Member["species"]["kind"] | null {
  return members.find((member) => member.species.kind === "grass")?.species.kind ?? members[0]?.species.kind ?? null
}

function round(g: number): number {
  return Math.round(g * 10) / 10
}
