import { sowingOfReminder } from "../garden/history.ts"
import type { Caution } from "../handbook/species.ts"
import type { CutWindow } from "../season/bed-plan.ts"
import { type Day, daysBetween } from "../values/day.ts"
import { localDay } from "../values/zone.ts"
import { aliveSpecies, type Scene } from "./kind.ts"
import { speciesNames } from "./names.ts"

/** The usual cautions in a line each. Common practice, no source; the species' own ones follow the handbook's entries. */
const WORDS = {
  blades: "Mind the blade, your feet and who stands by.",
  fumes: "Dug in fresh it gives off fumes that sting: stay upwind, keep children and animals off.",
  stock: "The tops can harm animals: ask before you feed them.",
  dust: "Mix inoculant into damp seed, out of the wind; do not breathe it in.",
} as const

/** Blades are named once in a season, not in each text. */
const ONCE_IN_DAYS = 300
/** A weed that is on lists, and not only one that seeds itself. */
const LISTED = /\blist/i
/** Two sentences of caution at most: more are not read. */
const MOST = 2

/** Care when cutting: fumes where mustard kin is turned in; once a season blades, and tops that harm animals. */
export function cutCautions(scene: Scene, window: CutWindow, day: Day): string[] {
  const then = window.carryOff ? "carry-off" : scene.sowing.then
  const alive = aliveSpecies(scene.sowing)
  const found: string[] = []
  if (then === "turn-in" && alive.some((id) => scene.handbook.species.get(id)?.biofumigant)) found.push(WORDS.fumes)
  const touchy = (ids: readonly string[]) => ids.some((id) => cautionsAbout(scene, id, "people"))
  if (touchy(alive) && !cutSaidLately(scene, day, touchy)) found.push(...peopleCautions(scene, alive))
  if (!cutSaidLately(scene, day, () => true)) found.push(WORDS.blades)
  const harmsStock = (ids: readonly string[]) => ids.some((id) => cautionsAbout(scene, id, "stock"))
  if (harmsStock(alive) && !cutSaidLately(scene, day, harmsStock)) found.push(WORDS.stock)
  return found.slice(0, MOST)
}

/** What the handbook says of people and these plants: hairs that irritate, pods that children must not find. */
function peopleCautions(scene: Scene, ids: readonly string[]): string[] {
  const all = ids.flatMap((id) => scene.handbook.species.get(id)?.cautions ?? [])
  return all
    .filter((caution) => caution.about === "people")
    .map((caution) => caution.text)
    .slice(0, 1)
}

/** Care when sowing: inoculant dust, what no cut kills, kinds that some places list as weeds, a family that comes back. */
export function sowCautions(scene: Scene): string[] {
  const ids = scene.sowing.species.map((species) => species.id)
  const found: string[] = []
  const notes = scene.sowing.atSowing ?? []
  if (ids.some((id) => cautionsAbout(scene, id, "dust"))) found.push(WORDS.dust)
  found.push(...notes.slice(0, 1))
  const weeds = ids.filter((id) => cautionsAbout(scene, id, "weed", LISTED))
  if (weeds.length > 0)
    found.push(`Some places list ${speciesNames(scene.handbook, weeds)} as a weed: check the local list.`)
  return [...found, ...notes.slice(1)].slice(0, MOST)
}

/** What is worth knowing of seed that lies already and of which no text spoke before it was sown. */
export function sownNotes(scene: Scene): string[] {
  const wasTold = scene.history.reminders.get(`${scene.sowing.sowing}:sow:1`)?.said.length
  return wasTold ? [] : (scene.sowing.atSowing ?? []).slice(0, MOST)
}

/** The cautions as the part of a `Said` that carries them. */
export function cautionPart(sentences: readonly string[]): { caution?: string } {
  return sentences.length > 0 ? { caution: sentences.join(" ") } : {}
}

function cautionsAbout(scene: Scene, id: string, about: Caution["about"], saying = /./): boolean {
  const cautions = scene.handbook.species.get(id)?.cautions ?? []
  return cautions.some((caution) => caution.about === about && saying.test(caution.text))
}

/** Was a cut spoken of this season, of a sowing whose species `counts`? Then its caution was said too. */
function cutSaidLately(scene: Scene, day: Day, counts: (species: readonly string[]) => boolean): boolean {
  for (const record of scene.history.reminders.values()) {
    const last = record.kind === "cut" ? record.said.at(-1) : undefined
    if (!last || daysBetween(localDay(last.at, scene.garden.place.zone), day) > ONCE_IN_DAYS) continue
    const sowings = scene.history.beds.get(record.bed) ?? []
    const sowing = sowings.find((each) => each.sowing.id === sowingOfReminder(record.id))?.sowing
    if (counts(sowing?.species.map((share) => share.id) ?? [])) return true
  }
  return false
}
