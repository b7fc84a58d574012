import type { Act } from "../../garden/acts.ts"
import type { OpenReminder } from "../context.ts"
import { settleDay } from "../days.ts"
import type { Frame } from "../frames.ts"
import { startsWith } from "../says.ts"
import { A_NOTE, ask, openOfKind, type Proposal, type Scene } from "../scene.ts"
import { type Targets, targetsOf } from "../targets.ts"
import { saidDays, when } from "../when.ts"
import { work } from "./work.ts"

/** "want peppers in the south bed june 5": a wish to plant on a day to come. */
export function want(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  const wished =
    isGoingIn(frame) ||
    isPlan(frame, scene) ||
    frame.has("wish") ||
    frame.has("future") ||
    frame.work?.forms.has("doing") === true
  if (!wished || frame.command) return null
  const targets = targetsOf(frame, scene, "plant")
  if (!frame.has("wish") && openOfKind(scene, "plant").length > 0) return null
  const plants =
    frame.work?.work === "plant" || (targets.crops.length > 0 && (frame.work === null || frame.work.work === "done"))
  if (!plants || (targets.crops.length === 0 && frame.work?.work !== "plant")) return null
  if (frame.before("not") || frame.held || frame.asked) return A_NOTE
  const days = saidDays(frames, index, "both")
  if (days === null && !frame.has("wish")) return A_NOTE
  const day = when(days ?? [{ said: "wrong" }], scene, "future", scene.context.now.day)
  if ("unclear" in day) return ask("day")
  if (targets.unknownBed)
    return ask(
      "bed",
      scene.context.beds.map((bed) => bed.id),
    )
  if (targets.unclear) return ask("bed", targets.unclear)
  const planting = openOfKind(scene, "plant")
  let beds = targets.beds
  if (beds.length === 0 && scene.context.beds.length === 1) beds = [scene.context.beds[0]?.id as string]
  if (beds.length === 0 && planting.length === 1) beds = [planting[0]?.bed as string]
  if (beds.length === 0 && scene.assumed?.which === "bed") beds = [...(scene.assumed.beds ?? [])]
  if (beds.length === 0)
    return ask(
      "bed",
      scene.context.beds.map((bed) => bed.id),
    )
  const crops = targets.crops.length > 0 ? targets.crops : [null]
  const acts: Act[] = beds.flatMap((bed) => crops.map((crop) => ({ act: "want" as const, bed, crop, on: day.day })))
  return { acts, ask: null, note: false }
}

/** "tomatoes in the shed bed 15/11": a crop, a bed and a day that can only lie ahead. */
function isPlan(frame: Frame, scene: Scene): boolean {
  if (frame.heads.length > 0 || frame.stray.length > 0 || frame.days.length !== 1) return false
  if (!frame.named.some(({ item }) => item.crops) || !frame.named.some(({ item }) => item.bed)) return false
  const [said] = frame.days
  return said !== undefined && settleDay(said.day, scene.context.now.day, "past") === null
}

/** "tomatoes going in on the 20th" */
function isGoingIn(frame: Frame): boolean {
  return frame.items.some(
    (item, at) => startsWith(item, "going") && frame.items[at + 1]?.senses.has("crop-in") === true,
  )
}

/** "tomatoes are in", "garlic's in the side bed": planted, said without a word for planting. */
export function cropIn(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (frame.work || frame.stage || frame.command || frame.then || frame.figures.length > 0) return null
  const targets = targetsOf(frame, scene, "plant")
  if (targets.crops.length === 0 && targets.species.length > 0) return speciesIn(frames, index, scene)
  if (targets.crops.length === 0 || frame.asked || frame.held) return null
  const planting = openOfKind(scene, "plant")
  const said = frame.items.some((item) => item.senses.has("crop-in"))
  const put = said || (targets.beds.length > 0 && frame.items.some((item) => startsWith(item, "into")))
  if (!put || frame.stray.length > 0) return null
  if (["not", "nearly", "partly", "future", "must", "maybe", "wish"].some((way) => frame.has(way)))
    return said ? A_NOTE : null
  const bed =
    targets.beds.length === 1
      ? (targets.beds[0] as string)
      : planting.length === 1 && targets.beds.length === 0
        ? (planting[0]?.bed as string)
        : null
  const several = inSeveral(targets, planting, frames, index, scene)
  if (several) return several
  if (bed === null)
    return said && targets.beds.length === 0 && !targets.unknownBed
      ? ask(
          "bed",
          scene.context.beds.map((each) => each.id),
        )
      : null
  const reminder = planting.find((each) => each.bed === bed)
  if (!reminder && !said) return null
  const days = saidDays(frames, index, "both")
  const until = when(days, scene, "future", scene.context.now.day)
  if (isGoingIn(frame)) {
    if (!reminder || days === null || "unclear" in until) return A_NOTE
    return { acts: [{ act: "snooze", n: [reminder.n], until: until.day }], ask: null, note: false }
  }
  const day = when(days, scene, "past", scene.context.now.day)
  if ("unclear" in day) return ask("day")
  const planted: Act[] = targets.crops.map((crop) => ({ act: "planted", bed, crop, on: day.day }))
  return {
    acts: reminder ? [{ act: "done", n: [reminder.n], on: day.day }, ...planted] : planted,
    ask: null,
    note: false,
  }
}

/** "lettuce in the shade row, beans in the sunny one": each crop with its bed, where those are to be planted. */
function inSeveral(
  { pairs, beds }: Targets,
  planting: readonly OpenReminder[],
  frames: readonly Frame[],
  index: number,
  scene: Scene,
): Proposal | null {
  if (beds.length < 2 || !pairs.every((pair) => pair.bed !== null && pair.crop !== undefined)) return null
  if (!beds.every((bed) => planting.some((each) => each.bed === bed))) return null
  const day = when(saidDays(frames, index, "both"), scene, "past", scene.context.now.day)
  if ("unclear" in day) return ask("day")
  const acts = pairs.flatMap((pair): Act[] => {
    const reminder = planting.find((each) => each.bed === pair.bed)
    const planted: Act = { act: "planted", bed: pair.bed ?? "", crop: pair.crop ?? null, on: day.day }
    return reminder ? [{ act: "done", n: [reminder.n], on: day.day }, planted] : [planted]
  })
  return { acts, ask: null, note: false }
}

/** "rye and vetch are in", where they were to be sown. */
function speciesIn(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  const at = frame.items.findIndex((item) => item.senses.has("crop-in"))
  const after = frame.items[at + 1]
  const ends =
    !after || Boolean(after.day ?? after.bed ?? after.time) || after.mark !== undefined || after.senses.has("courtesy")
  if (at < 0 || !ends || frame.asked || frame.held || frame.stray.length > 0) return null
  if (["not", "nearly", "partly", "future", "must", "maybe", "wish"].some((way) => frame.has(way))) return A_NOTE
  const open = openOfKind(scene, "sow")
  if (open.length === 0) return null
  const sown: Frame = { ...frame, work: { work: "sow", forms: new Set(["did"]) } }
  return work(
    frames.map((each, i) => (i === index ? sown : each)),
    index,
    scene,
  )
}
