import { viewOn } from "../bot/known.ts"
import type { Reminder } from "../reminders/reminder.ts"
import type { BedPlan, SowingPlan } from "../season/bed-plan.ts"
import { nearestWord } from "../values/nearest.ts"
import { type Problem, WrongInput } from "../values/problem.ts"
import type { Range } from "../values/range.ts"
import type { Command, KnownGarden } from "./command.ts"
import { readOptions } from "./options.ts"

export const plan: Command = {
  name: "plan",
  summary: "every bed's plan as known on a day",
  usage: `usage: ryebell plan [--garden FILE] [--log FILE] [--weather FILE] [--on DAY] [--bed ID] [--json]

Shows what is expected of every sowing, when to cut, how long to rest, what comes next, and the reminders that follow.
  --garden FILE   a garden file other than the one that is set
  --log FILE      log lines (JSON Lines, as \`log --json\` prints them) in place of the store
  --weather FILE  daily weather, CSV: date,tmin_c,tmax_c,rain_mm
  --on DAY        as known at the end of that day (YYYY-MM-DD); without it, today
  --bed ID        one bed only
  --json          one JSON value`,
  async run(args, world) {
    const { options } = readOptions(args, {
      garden: "text",
      log: "text",
      weather: "text",
      on: "day",
      bed: "text",
      json: "flag",
    })
    const known = await world.known(options)
    const view = viewOn(known.handbook, known.garden, known.entries, known.weather, known.on)
    if (options.bed !== undefined) checkBed(options.bed, known)
    const beds = view.plan.beds.filter((bed) => options.bed === undefined || bed.bed === options.bed)
    const reminders = view.reminders.filter((reminder) => options.bed === undefined || reminder.bed === options.bed)
    if (options.json)
      world.out(
        JSON.stringify({
          on: view.plan.on,
          garden: view.plan.garden,
          beds: beds.map(bedJson),
          reminders: reminders.map(reminderJson),
        }),
      )
    else for (const line of planLines(known, beds, reminders)) world.out(line)
    return 0
  },
}

function checkBed(id: string, known: KnownGarden): void {
  const ids = known.garden.beds.map((bed) => bed.id)
  if (ids.includes(id)) return
  const nearest = nearestWord(id, ids)
  const problem: Problem = {
    code: "unknown-bed",
    place: null,
    field: "--bed",
    found: JSON.stringify(id),
    expected: `a bed of this garden: ${ids.join(", ")}`,
  }
  throw new WrongInput([nearest ? { ...problem, nearest } : problem])
}

/** Beds and sowings in the shape that other programs rely on, with what more the plan holds. */
function bedJson(bed: BedPlan): unknown {
  return { bed: bed.bed, sowings: bed.sowings }
}

function reminderJson(reminder: Reminder): unknown {
  const { id, kind, bed, sowing, person, opens, lapses, state, speaks, text } = reminder
  return { id, kind, bed, sowing, person, opens, lapses, state, speaks, text }
}

function planLines(known: KnownGarden, beds: readonly BedPlan[], reminders: readonly Reminder[]): string[] {
  const names = new Map(known.garden.beds.map((bed) => [bed.id, bed.name]))
  const lines = [`${known.garden.name}, as known on ${known.on}`]
  if (known.weather.climate.made) lines.push(`Weather not known yet is taken from ${known.weather.climate.made}.`)
  for (const bed of beds) {
    lines.push("", `${names.get(bed.bed) ?? bed.bed} (${bed.bed})`)
    for (const sowing of bed.sowings) lines.push(...sowingLines(sowing))
    if (bed.sowings.length === 0) lines.push("  nothing sown or planned")
  }
  const open = reminders.filter((reminder) => ["due", "sent", "snoozed", "planned"].includes(reminder.state))
  lines.push("", open.length === 0 ? "No reminders are open or planned." : "Reminders open or planned:")
  for (const reminder of open.toSorted((a, b) => (a.opens < b.opens ? -1 : 1))) {
    lines.push(`  ${reminder.opens}  ${reminder.state.padEnd(8)} ${reminder.id} (${reminder.person})`)
  }
  return lines
}

function sowingLines(sowing: SowingPlan): string[] {
  const what = sowing.species.map((each) => `${each.id} ${Math.round(each.share * 100)}%`).join(" + ")
  const lines = [`  ${sowing.sowing}  ${what}: ${sowing.state}`]
  const say = (name: string, text: string) => lines.push(`    ${name.padEnd(13)} ${text}`)
  if (sowing.sow) say("sow", `${sowing.sow.from} to ${sowing.sow.by}. ${sowing.sow.why}`)
  for (const each of sowing.species) {
    if (each.gone) say(each.id, `${each.gone.how} ${each.gone.on}`)
    if (each.noBloom) say(each.id, each.noBloom)
    if (each.firstFlower) say("first flower", `${days(each.firstFlower)}  ${each.id}. ${each.firstFlower.why}`)
  }
  if (sowing.noCut) say("no cut", sowing.noCut)
  if (sowing.cut) say("cut", `${sowing.cut.from} to ${sowing.cut.by}, best ${sowing.cut.best}. ${sowing.cut.why}`)
  if (sowing.wasCut) say("was cut", `${sowing.wasCut.on}, ${sowing.wasCut.then}`)
  if (sowing.rest)
    say(
      "rest",
      `transplants ${days(sowing.rest.transplants)}; small seed ${days(sowing.rest.smallSeed)}. ${sowing.rest.why}`,
    )
  if (sowing.next) {
    say(
      "next",
      `${sowing.next.crop} wanted ${sowing.next.wanted}: ${sowing.next.fits ? "fits" : "does not fit"}. ${sowing.next.why}`,
    )
    for (const way of sowing.next.ways) say("  way out", `${way.way}: ready ${days(way.ready)}. ${way.cost}`)
  }
  if (sowing.nitrogen)
    say(
      "nitrogen",
      `${round(sowing.nitrogen.credit_g_per_m2.low)} to ${round(sowing.nitrogen.credit_g_per_m2.high)} g per m2. ${sowing.nitrogen.why}`,
    )
  if (sowing.water) say("water", `${round(sowing.water.water_l)} l. ${sowing.water.why}`)
  for (const hazard of sowing.hazards)
    say("mind", `${hazard.what}${hazard.until ? ` until ${hazard.until}` : ""}. ${hazard.why}`)
  for (const remark of sowing.remarks) say("note", remark)
  for (const caution of sowing.cautions) say("caution", caution.text)
  return lines
}

function days(range: Range): string {
  return range.early === range.late ? range.likely : `${range.early} .. ${range.likely} .. ${range.late}`
}

function round(value: number): number {
  return Math.round(value * 10) / 10
}
