import type { Act } from "../../garden/acts.ts"
import type { ReminderKind } from "../../garden/entry.ts"
import type { Then } from "../../garden/garden.ts"
import type { Day } from "../../values/day.ts"
import type { OpenReminder } from "../context.ts"
import type { Frame } from "../frames.ts"
import { type Aim, numbersOf, openOf, openOfKind, type Proposal, type Scene } from "../scene.ts"
import type { Targets } from "../targets.ts"

export type Aimed = { aims: Aim[]; ask: Proposal["ask"] }

/** Beds of which a mention with that species can be. */
export function bedsWith(scene: Scene, ids: readonly string[]): string[] {
  return scene.context.beds.filter((bed) => bed.species.some((id) => ids.includes(id))).map((bed) => bed.id)
}

/**
 * Which open reminders a clause means, and which beds beside them; `kind` narrows it, `plain` lets beds without such a
 * reminder count ("cut the east bed"). What cannot be told is asked for; the other parts still count.
 */
export function aim(frame: Frame, scene: Scene, targets: Targets, asked: ReminderKind | null, plain: boolean): Aimed {
  // To sow again is to sow: it settles what was to be sown, or else what was to be resown.
  const kind =
    asked === "sow" && openOfKind(scene, "sow").length === 0 && openOfKind(scene, "resow").length > 0 ? "resow" : asked
  const fits = (each: OpenReminder): boolean =>
    kind === null ||
    each.kind === kind ||
    (kind === "sow" &&
      each.kind === "resow" &&
      !scene.context.open.some((other) => other.kind === "sow" && other.bed === each.bed))
  const aimed: Aimed = { aims: [], ask: null }
  const add = (found: Aim): void => {
    if (!aimed.aims.some((each) => each.n === found.n && each.bed === found.bed)) aimed.aims.push(found)
  }
  const question = (
    which: "bed" | "reminder" | "what" | "species",
    choices: readonly (string | number)[] = [],
  ): void => {
    aimed.ask ??= { which, choices: [...choices] }
  }
  const { numbers, beds } = targets
  const clash = clashOf(frame, scene, targets)
  if (clash) return chooseOf(scene, aimed, "reminder", clash)
  if (frame.either && beds.length === 0 && numbers.length > 1) return chooseOf(scene, aimed, "reminder", numbers)
  if (frame.either && beds.length > 0 && beds.length + numbers.length > 1)
    return chooseOf(scene, aimed, "bed", numbers.length > 0 ? [] : beds, fits, plain)
  aimNumbers(scene, targets, kind, add, question)
  if (targets.unknownBed)
    question(
      "bed",
      scene.context.beds.map((bed) => bed.id),
    )
  if (targets.unclear) aimUnclear(scene, targets.unclear, question)
  if (targets.dayOrBed) question("reminder", numbersOf(scene.context.open))
  for (const bed of targets.beds) {
    const here = openOf(scene, (each) => each.bed === bed && fits(each))
    if (here.length === 1) add(here[0] as OpenReminder)
    else if (here.length > 1) question("reminder", numbersOf(here))
    else if (plain) add({ n: null, bed })
    else question("what")
  }
  if (targets.beds.length === 0) for (const ids of targets.species) aimSpecies(scene, ids, fits, plain, add, question)
  if (targets.amount) aimAmount(frame, scene, targets, kind, plain, add, question)
  if (targets.none) aimNothing(scene, kind, plain, add, question)
  if (frame.left.length > 0) leaveOut(frame, aimed)
  if (aimed.ask) assume(scene, aimed, fits, plain)
  return aimed
}

/** "done 1 kitchen", where 1 is another bed's: the numbers that may be meant. */
function clashOf(frame: Frame, scene: Scene, { numbers, beds }: Targets): number[] | null {
  const [n] = numbers
  const [bed] = beds
  if (n === undefined || bed === undefined || numbers.length > 1 || beds.length > 1) return null
  const [first, second, more] = frame.named.filter(({ item }) => item.bed ?? item.numbers)
  if (!first || !second || more || first.item.to !== second.item.from) return null
  const reminder = scene.context.open.find((each) => each.n === n)
  if (!reminder || reminder.bed === bed) return null
  return [n, ...numbersOf(openOf(scene, (each) => each.bed === bed))]
}

/** "1 or 2 is done": which of them must be asked. */
function chooseOf(
  scene: Scene,
  aimed: Aimed,
  which: "reminder" | "bed",
  choices: readonly (string | number)[],
  fits: (each: OpenReminder) => boolean = () => true,
  plain = true,
): Aimed {
  aimed.ask = { which, choices: [...choices] }
  assume(scene, aimed, fits, plain)
  return aimed
}

/** The answer to our question takes the place of what was missing. */
function assume(scene: Scene, aimed: Aimed, fits: (each: OpenReminder) => boolean, plain: boolean): void {
  const { assumed } = scene
  if (!assumed || assumed.which !== aimed.ask?.which) return
  const numbers = assumed.numbers ?? []
  const beds = assumed.beds ?? []
  for (const each of scene.context.open) if (numbers.includes(each.n)) aimed.aims.push(each)
  for (const bed of beds) {
    const here = openOf(scene, (each) => each.bed === bed && fits(each))
    if (here.length === 1) aimed.aims.push(here[0] as OpenReminder)
    else if (plain) aimed.aims.push({ n: null, bed })
    else return
  }
  if (numbers.length > 0 || beds.length > 0) aimed.ask = null
}

type Add = (found: Aim) => void
type Question = (which: "bed" | "reminder" | "what" | "species", choices?: readonly (string | number)[]) => void

function aimNumbers(scene: Scene, targets: Targets, kind: ReminderKind | null, add: Add, question: Question): void {
  const spoken = new Set(targets.numbers)
  const others = numbersOf(scene.context.open).filter((n) => !spoken.has(n))
  for (const n of targets.numbers) {
    const reminder = scene.context.open.find((each) => each.n === n)
    if (reminder && (kind === null || reminder.kind === kind || (kind === "sow" && reminder.kind === "resow")))
      add(reminder)
    else question("reminder", others.length > 0 ? others : numbersOf(scene.context.open))
  }
}

function aimUnclear(scene: Scene, beds: readonly string[], question: Question): void {
  question("bed", beds.length > 0 ? beds : scene.context.beds.map((bed) => bed.id))
}

/** A species only names the reminder, if one of its beds has one; else its only bed. */
function aimSpecies(
  scene: Scene,
  ids: readonly string[],
  fits: (each: OpenReminder) => boolean,
  plain: boolean,
  add: Add,
  question: Question,
): void {
  const beds = bedsWith(scene, ids)
  const here = openOf(scene, (each) => beds.includes(each.bed) && fits(each))
  if (here.length === 1) add(here[0] as OpenReminder)
  else if (here.length > 1) question("reminder", numbersOf(here))
  else if (!plain) question("what")
  else if (beds.length === 1) add({ n: null, bed: beds[0] as string })
  else question("bed", beds.length > 0 ? beds : scene.context.beds.map((bed) => bed.id))
}

function aimAmount(
  frame: Frame,
  scene: Scene,
  targets: Targets,
  kind: ReminderKind | null,
  plain: boolean,
  add: Add,
  question: Question,
): void {
  // "all of south", "both oats and peas": the names say which.
  if (
    targets.amount !== "rest" &&
    (targets.beds.length > 0 || targets.species.length > 0 || targets.numbers.length > 0)
  )
    return
  if (targets.unclear || targets.unknownBed) return
  const open = kind === null ? scene.context.open : openOfKind(scene, kind)
  if (targets.amount === "rest" && scene.spoken.size === 0 && targets.numbers.length === 0)
    return question("reminder", numbersOf(open))
  const left =
    targets.amount === "rest"
      ? open.filter((each) => !scene.spoken.has(each.n) && !targets.numbers.includes(each.n))
      : open
  if (targets.amount === "both" && left.length !== 2) {
    if (plain && left.length === 0 && scene.context.beds.length === 2)
      for (const bed of scene.context.beds) add({ n: null, bed: bed.id })
    else if (plain && left.length === 0)
      question(
        "bed",
        scene.context.beds.map((bed) => bed.id),
      )
    else question(scene.context.open.length === 0 ? "what" : "reminder", numbersOf(scene.context.open))
  } else if (left.length > 0) for (const each of left) add(each)
  else if (!plain || frame.work === null)
    question(scene.context.open.length === 0 ? "what" : "reminder", numbersOf(scene.context.open))
  else if (scene.context.beds.length === 1) add({ n: null, bed: scene.context.beds[0]?.id as string })
  else
    question(
      "bed",
      scene.context.beds.map((bed) => bed.id),
    )
}

/** Nothing is named: the only open one, or the only bed. */
function aimNothing(scene: Scene, kind: ReminderKind | null, plain: boolean, add: Add, question: Question): void {
  const open = kind === null ? scene.context.open : openOfKind(scene, kind)
  const { beds } = scene.context
  if (open.length === 1) add(open[0] as OpenReminder)
  else if (open.length > 1) question("reminder", numbersOf(open))
  else if (!plain) question(scene.context.open.length > 0 && kind === null ? "reminder" : "what", [])
  else if (beds.length === 1) add({ n: null, bed: beds[0]?.id as string })
  else
    question(
      "bed",
      beds.map((bed) => bed.id),
    )
}

/** Takes out what was named behind "except" or "not". */
function leaveOut(frame: Frame, aimed: Aimed): void {
  const beds = frame.left.flatMap(({ item }) => item.bed?.beds ?? [])
  const numbers = frame.left.flatMap(({ item }) => item.numbers ?? [])
  aimed.aims = aimed.aims.filter((each) => !beds.includes(each.bed) && !(each.n !== null && numbers.includes(each.n)))
}

/** The acts that say the work was done: `done` with the numbers, the plain act where there is none. */
export function workActs(
  aims: readonly Aim[],
  work: "cut" | "water-in" | "sow" | "plant" | null,
  on: Day,
  detail: {
    species?: (bed: string) => readonly string[]
    then?: Then | null
    crops?: (bed: string) => readonly string[]
  },
): Act[] {
  const acts: Act[] = []
  const settled = aims.flatMap((each) => (each.n === null ? [] : [each.n])).sort((a, b) => a - b)
  let told = false
  for (const { n, bed } of aims) {
    if (n !== null && !told) acts.push({ act: "done", n: settled, on })
    told ||= n !== null
    if (work === "cut" && (n === null || detail.then))
      acts.push({ act: "cut", bed, species: [], then: detail.then ?? null, on })
    if (work === "water-in" && n === null) acts.push({ act: "watered", bed, on })
    const species = detail.species?.(bed) ?? []
    if (work === "sow" && (n === null || species.length > 0))
      acts.push({ act: "sowed", bed, species: [...species], on })
    if (work === "plant") {
      const crops = detail.crops?.(bed) ?? []
      if (crops.length === 0 && n === null) acts.push({ act: "planted", bed, crop: null, on })
      for (const crop of crops) acts.push({ act: "planted", bed, crop, on })
    }
  }
  return acts
}

/** Keeps what was worked on, for what the text says further of it. */
export function remember(scene: Scene, aims: readonly Aim[], on: Day, index: number): void {
  scene.lastWork = { aims, on, index }
  for (const { n } of aims) if (n !== null) scene.spoken.add(n)
}
