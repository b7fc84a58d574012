import type { Handbook } from "../handbook/handbook.ts"
import type { FloweringFigure, Species } from "../handbook/species.ts"
import type { Command } from "./command.ts"
import { findEntry } from "./find-entry.ts"
import { readOptions } from "./options.ts"
import { figureLines, showGrade, sourceLines, withSources } from "./show-figure.ts"

/** Every species on a line: id, name, kind, life, Latin name. */
export function listSpecies(handbook: Handbook): string {
  const all = [...handbook.species.values()]
  const width = Math.max(...all.map(({ id }) => id.length)) + 2
  const lines = all.map(
    ({ id, kind, life, latin }) => `${id.padEnd(width)}${kind.padEnd(11)}${inWords(life).padEnd(15)}${latin}`,
  )
  return [...lines, "", "All about one: species ID"].join("\n")
}

/** All that the handbook holds of a species, with units, grades and the works behind it. */
export function showSpecies(species: Species, handbook: Handbook): string {
  const { seeding, germination, sowing, cut, cn } = species
  const part = (title: string, lines: (string | string[])[]) => ["", title, ...lines.flat()]
  return [
    `${species.names[0]} (${species.id})`,
    `${species.latin}, ${species.family}; ${species.kind}, ${inWords(species.life)}`,
    `Also called: ${species.names.slice(1).join(", ") || "nothing else"}`,
    ...part("Seed", [
      figureLines("broadcast, pure stand", seeding.broadcast_g_per_m2),
      figureLines("depth", seeding.depth_cm),
      seeding.seeds_per_g ? figureLines("seeds", seeding.seeds_per_g) : [],
      species.inoculant ? `  inoculant: ${species.inoculant}` : [],
    ]),
    ...part("Coming up", [
      figureLines("soil no colder than", germination.minSoil_c),
      figureLines("days to seedlings", germination.emergence_days),
    ]),
    ...part("When to sow", [
      Object.entries(sowing.seasons).map(
        ([name, { fit, note }]) => `  ${inWords(name)}: ${fit}${note ? `. ${note}` : ""}`,
      ),
      sowing.weeksBeforeFirstAutumnFrost
        ? figureLines("weeks before the first autumn frost", sowing.weeksBeforeFirstAutumnFrost)
        : [],
      sowing.weeksFromLastSpringFrost
        ? figureLines("weeks from the last spring frost", sowing.weeksFromLastSpringFrost)
        : [],
    ]),
    ...part("Flower and seed", [
      `  day length: ${species.photoperiod === "neutral" ? "indifferent" : `${species.photoperiod} days`}; winter cold: ${species.vernalization}`,
      ...species.flowering.map(floweringLines),
      figureLines("first flower to live seed", species.viableSeed_days),
    ]),
    ...part("Winter", [figureLines("killed by cold, from coldest survived to warmest loss", species.winterKill_c)]),
    ...part("Cutting", [
      `  one cut kills: ${cut.killedFrom === "never" ? "never" : `from ${inWords(cut.killedFrom)}`} (${showGrade(cut.grade)}) [${cut.source.join(", ")}]`,
      cut.daysAfterFirstFlower ? figureLines("that is after first flower", cut.daysAfterFirstFlower) : [],
      `  ${cut.regrowth.text} [${cut.regrowth.source.join(", ")}]`,
      species.height_cm ? figureLines("height", species.height_cm) : [],
    ]),
    ...part("Residue", [
      ...Object.entries(cn).map(([stage, figure]) => figureLines(`carbon to nitrogen, ${stage}`, figure)),
      species.breakdown_weeks ? figureLines("wait before planting", species.breakdown_weeks) : [],
      species.nitrogen_g_per_m2 ? figureLines("nitrogen in the tops", species.nitrogen_g_per_m2) : [],
      `  holds back other plants: ${yes(species.allelopathic)}; fumes when dug in: ${yes(species.biofumigant)}`,
    ]),
    ...part("Careful", [
      ...species.cautions.map(({ text, source }) => `  ${text} [${source.join(", ")}]`),
      "  Local rules and professionals know better; ask them.",
    ]),
    ...(species.notes
      ? part("Notes", [species.notes.map(({ text, source }) => `  ${text} [${source.join(", ")}]`)])
      : []),
    ...part("Sources", [sourceLines(species, handbook)]),
  ].join("\n")
}

function floweringLines({ stage, sown, comes, type, days, degreeDays, calendar, note }: FloweringFigure): string[] {
  const name = `${inWords(stage)}, sown in ${inWords(sown)}${type ? ` (${type} types)` : ""}`
  if (!comes) return [`  ${name}: does not come. ${note ?? ""}`.trimEnd()]
  return [
    ...(days ? figureLines(`${name}, from sowing`, days) : [`  ${name}:`]),
    ...(degreeDays
      ? figureLines(`  heat above ${degreeDays.base_c} C from ${inWords(degreeDays.from)}`, degreeDays.sum)
      : []),
    ...(calendar ? [`    calendar: ${calendar.text} [${calendar.source.join(", ")}]`] : []),
    ...(note ? [`    ${note}`] : []),
  ]
}

/** `late-summer` as people write it; a day of the year (`01-01`) stays. */
function inWords(id: string): string {
  return /^\d/.test(id) ? id : id.replaceAll("-", " ")
}

const yes = (is: boolean) => (is ? "yes" : "no")

export const speciesCommand: Command = {
  name: "species",
  summary: "the cover species with all figures and their sources",
  usage:
    "usage: ryebell species [ID] [--json]\n\nWithout ID the list; with one, all that is known of it, where it comes from and how far to trust it.",
  async run(args, world) {
    const { options, words } = readOptions(args, { json: "flag" }, { most: 1 })
    const handbook = world.handbook()
    const [id] = words
    if (id === undefined) {
      const all = [...handbook.species.values()]
      world.out(options.json ? JSON.stringify(all.map((one) => withSources(one, handbook))) : listSpecies(handbook))
    } else {
      const species = findEntry(handbook.species, id, "species")
      world.out(options.json ? JSON.stringify(withSources(species, handbook)) : showSpecies(species, handbook))
    }
    return 0
  },
}
