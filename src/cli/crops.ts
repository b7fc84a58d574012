import type { Crop } from "../handbook/crop.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { Command } from "./command.ts"
import { findEntry } from "./find-entry.ts"
import { readOptions } from "./options.ts"
import { figureLines, sourceLines, withSources } from "./show-figure.ts"

/** Every food crop on a line: id, how it is started, its hunger for nitrogen, family. */
export function listCrops(handbook: Handbook): string {
  const all = [...handbook.crops.values()]
  const width = Math.max(...all.map(({ id }) => id.length)) + 2
  const lines = all.map(
    ({ id, start, nitrogen, family }) =>
      `${id.padEnd(width)}${start.replace("-", " ").padEnd(12)}${`${nitrogen.need} feeder`.padEnd(21)}${family}`,
  )
  return [...lines, "", "All about one: crops ID"].join("\n")
}

/** All that the handbook holds of a food crop, with units, grades and the works behind it. */
export function showCrop(crop: Crop, handbook: Handbook): string {
  const started = [crop.start, ...(crop.alsoStarted ?? [])].map((way) => way.replace("-", " ")).join(", also as ")
  const { rye, legume, brassica } = crop.after
  const after = Object.entries({ rye, legume, "mustard or radish": brassica })
  return [
    `${crop.names[0]} (${crop.id})`,
    `${crop.family}; started as ${started}; frost ${crop.tender ? "kills it" : "does not kill it"}`,
    `Also called: ${crop.names.slice(1).join(", ") || "nothing else"}`,
    "",
    "Needs",
    ...figureLines(`nitrogen, a ${crop.nitrogen.need} feeder`, crop.nitrogen.need_g_per_m2),
    ...figureLines("soil no colder than", crop.minSoil_c),
    ...(crop.weeksFromLastFrost ? figureLines("goes out, from the last spring frost", crop.weeksFromLastFrost) : []),
    ...(crop.harvest_days ? figureLines("first harvest after", crop.harvest_days) : []),
    "",
    "After a cover",
    ...after.flatMap(([cover, text]) => (text === undefined ? [] : [`  ${cover}: ${text}`])),
    "",
    "Sources",
    ...sourceLines(crop, handbook),
  ].join("\n")
}

export const cropsCommand: Command = {
  name: "crops",
  summary: "the food crops with all figures and their sources",
  usage:
    "usage: ryebell crops [ID] [--json]\n\nWithout ID the list; with one, all that is known of it, where it comes from and how far to trust it.",
  async run(args, world) {
    const { options, words } = readOptions(args, { json: "flag" }, { most: 1 })
    const handbook = world.handbook()
    const [id] = words
    if (id === undefined) {
      const all = [...handbook.crops.values()]
      world.out(options.json ? JSON.stringify(all.map((one) => withSources(one, handbook))) : listCrops(handbook))
    } else {
      const crop = findEntry(handbook.crops, id, "crop")
      world.out(options.json ? JSON.stringify(withSources(crop, handbook)) : showCrop(crop, handbook))
    }
    return 0
  },
}
