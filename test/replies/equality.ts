import type { Act, ActOf, Ask } from "../../src/garden/acts.ts"
import type { CaseGarden, Reading, ReplyCase } from "./gardens.ts"

type Plain = Record<string, unknown> & { act: string }

/** Work that says the same as `done` of a reminder of this kind on its bed. */
const SETTLES: Record<string, string> = { cut: "cut", watered: "water-in", planted: "plant", sowed: "sow" }

/** Does what was read say the same as the case expects, or as one of the readings it accepts? */
export function isRight(one: ReplyCase, read: Reading, garden: CaseGarden): boolean {
  return readingsOf(one).some(
    (wanted) =>
      sameActs(wanted.acts, read.acts, garden) &&
      sameAsk(wanted.ask, read.ask) &&
      (one.note_free === true || wanted.note === read.note),
  )
}

function readingsOf(one: ReplyCase): Reading[] {
  return [one.expect, ...(one.accept ?? []).map((other) => ({ ...one.expect, ...other }))]
}

function sameAsk(wanted: Ask | null, read: Ask | null): boolean {
  if (!wanted || !read) return !wanted && !read
  if (wanted.which !== read.which) return false
  const choices = (wanted.choices ?? []).map(String)
  return choices.length === 0 || sameSet(choices, read.choices.map(String))
}

function sameSet(a: readonly string[], b: readonly string[]): boolean {
  return new Set(a).size === new Set(b).size && a.every((each) => b.includes(each))
}

function sameActs(wanted: readonly Act[], read: readonly Act[], garden: CaseGarden): boolean {
  const a = plain(wanted, garden)
  const b = plain(read, garden)
  return a.length === b.length && a.every((act, index) => sameAct(act, b[index] as Plain, garden))
}

/** Acts in the one form in which equal meanings are equal: settled work as `done`, a number each, neighbours merged. */
function plain(acts: readonly Act[], garden: CaseGarden): Plain[] {
  const single: Plain[] = []
  const push = (act: Plain): void => {
    const counted = act.act === "done" || act.act === "snooze" || act.act === "skip"
    if (!counted || !single.some((each) => JSON.stringify(each) === JSON.stringify(act))) single.push(act)
  }
  for (const act of acts) {
    const numbers = "n" in act && Array.isArray(act.n) ? act.n : null
    if (numbers) for (const n of numbers) push({ ...bare(act, garden), n: [n] })
    else {
      const n = settledBy(act, garden)
      if (n !== null && "on" in act) push({ act: "done", n: [n], on: act.on })
      if (n === null || saysMore(act)) push(bare(act, garden))
    }
  }
  return merged(single)
}

function bare(act: Act, garden: CaseGarden): Plain {
  const entries = Object.entries(act).filter(([, value]) => value !== null)
  const found = Object.fromEntries(entries) as Plain
  const grown = garden.beds.find((bed) => bed.id === found.bed)?.species ?? []
  const seen = act.act === "observe" || act.act === "measure"
  if (seen && grown.length === 1 && found.species === grown[0]) delete found.species
  return found
}

function settledBy(act: Act, garden: CaseGarden): number | null {
  const kind = SETTLES[act.act]
  if (!kind || !("bed" in act)) return null
  const fits = garden.open.filter((each) => each.kind === kind && each.bed === act.bed)
  if (fits.length !== 1) return null
  const grown = garden.beds.find((bed) => bed.id === act.bed)?.species ?? []
  const part = act.act === "cut" && act.species.length > 0 && !sameSet(act.species, grown)
  return part ? null : (fits[0]?.n ?? null)
}

function saysMore(act: Act): boolean {
  if (act.act === "cut") return act.then !== null
  if (act.act === "planted") return act.crop !== null
  return act.act === "sowed" && act.species.length > 0
}

function merged(acts: readonly Plain[]): Plain[] {
  const found: Plain[] = []
  for (const act of acts) {
    const last = found.at(-1)
    const counted = act.act === "done" || act.act === "snooze" || act.act === "skip"
    const same = last && counted && JSON.stringify({ ...last, n: 0 }) === JSON.stringify({ ...act, n: 0 })
    if (same) last.n = [...(last.n as number[]), ...(act.n as number[])].sort((a, b) => a - b)
    else found.push({ ...act })
  }
  return found
}

function sameAct(wanted: Plain, read: Plain, garden: CaseGarden): boolean {
  if (wanted.act !== read.act) return false
  return [...new Set([...Object.keys(wanted), ...Object.keys(read)])].every((key) => {
    const [a, b] = [wanted[key], read[key]]
    if (a === undefined) return isHarmless(key, wanted, read, garden)
    if (b === undefined) return Array.isArray(a) && a.length === 0
    if (Array.isArray(a) && Array.isArray(b)) return sameSet(a.map(String), b.map(String))
    if (typeof a === "number" && typeof b === "number") return Math.abs(a - b) <= Math.max(0.02 * Math.abs(a), 0.15)
    return a === b
  })
}

/** An extra key that only spells out what could not be otherwise. */
function isHarmless(key: string, wanted: Plain, read: Plain, garden: CaseGarden): boolean {
  const beds = garden.beds.map((bed) => bed.id)
  if (key === "species") return Array.isArray(read.species) && read.species.length === 0
  if (key === "bed" && wanted.act === "tell") {
    const told = garden.open.find((each) => each.n === wanted.n)
    return beds.length === 1 || told?.bed === read.bed || (garden.open.length === 1 && garden.open[0]?.bed === read.bed)
  }
  return key === "bed" && wanted.act === "measure" && wanted.what === "rain_mm" && beds.length === 1
}

const RISKY = new Set(["done", "cut", "skip", "stop", "pause", "planted", "sowed", "observe", "start"])

/** What a reading would wrongly do: the acts that change something and that no accepted reading has, or a missed stop. */
export function dangersOf(one: ReplyCase, read: Reading, garden: CaseGarden): string[] {
  const allowed = readingsOf(one).flatMap((wanted) => deeds(wanted.acts, garden))
  const found = deeds(read.acts, garden).filter((deed) => !allowed.some((each) => covers(each, deed)))
  const mustStop = readingsOf(one).every((wanted) => wanted.acts.some((act) => act.act === "stop"))
  const stopped = read.acts.some((act) => act.act === "stop")
  return [...found.map((deed) => deed.join(" ")), ...(mustStop && !stopped ? ["a stop was missed"] : [])]
}

function deeds(acts: readonly Act[], garden: CaseGarden): string[][] {
  return plain(acts, garden)
    .filter((act) => RISKY.has(act.act))
    .flatMap((act) => {
      if (act.act === "observe") return [[act.act, String(act.bed), String(act.what), String(act.species ?? "")]]
      if (Array.isArray(act.n)) return act.n.map((n) => [act.act, String(n)])
      return [[act.act, String((act as unknown as ActOf<"cut">).bed ?? "")]]
    })
}

function covers(allowed: readonly string[], deed: readonly string[]): boolean {
  return (
    allowed.length === deed.length &&
    allowed.every((part, index) => part === deed[index] || (index === 3 && (part === "" || deed[3] === "")))
  )
}
