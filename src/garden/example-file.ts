import { addDays, type Day, daysBetween, inYear, partsOf } from "../values/day.ts"
import type { Bed, Garden, Sowing, SpeciesShare } from "./garden.ts"

/**
 * The example garden as it stands on a day, for `--example`. Its file tells one year of a garden; covers follow the sun,
 * so its days are moved by whole years only, and spring stays spring: to the year whose latest "sown" day is nearest to
 * today. What is past by then was sown, what is to come (or only just due) is planned, and a cover whose bed has gone to
 * the next crop is left out, since no log tells how it went. A garden has weeks with nothing to do, above all in winter;
 * so that something is due on whatever day one first looks, the last greenhouse bed of the file gets a quick cover sown
 * today, in place of its own sowings.
 */
export function exampleGarden(garden: Garden, today: Day): Garden {
  const moved = moveYears(garden, yearsTo(garden, today))
  const frame = moved.beds.findLast((bed) => bed.kind === "greenhouse")
  return { ...moved, beds: moved.beds.map((bed) => (bed === frame ? sownToday(bed, today) : asOf(bed, today))) }
}

/** A garden with every day some years on (back where negative); 29 February falls on the 28th where there is none. */
export function moveYears(garden: Garden, years: number): Garden {
  const move = (day: Day | null) => (day === null ? null : inYear(day, partsOf(day).year + years))
  const moveSowing = (sowing: Sowing): Sowing => {
    const [sown, planned] = [move(sowing.sown), move(sowing.planned)]
    const next = sowing.next && { ...sowing.next, wanted: move(sowing.next.wanted) }
    return { ...sowing, id: `${sowing.bed}:${sown ?? planned}`, sown, planned, next }
  }
  return { ...garden, beds: garden.beds.map((bed) => ({ ...bed, sowings: bed.sowings.map(moveSowing) })) }
}

/** Half a year, so that a year either side of the latest sowing is told. */
const HALF_YEAR_DAYS = 183

function yearsTo(garden: Garden, today: Day): number {
  const sown = garden.beds.flatMap((bed) => bed.sowings.flatMap((sowing) => sowing.sown ?? []))
  const latest = sown.toSorted().at(-1)
  if (!latest) return 0
  const years = partsOf(today).year - partsOf(latest).year
  const off = daysBetween(inYear(latest, partsOf(today).year), today)
  return off >= HALF_YEAR_DAYS ? years + 1 : off < -HALF_YEAR_DAYS ? years - 1 : years
}

/** A sowing that came due within so many days is still to do, so that the example shows that reminder too. */
const JUST_DUE_DAYS = 3
/** So long after the day wanted, the next crop is in the bed. */
const REPLACED_DAYS = 14

function asOf(bed: Bed, today: Day): Bed {
  const isReplaced = ({ next }: Sowing) => next?.wanted && next.wanted < addDays(today, -REPLACED_DAYS)
  return {
    ...bed,
    sowings: bed.sowings
      .filter((sowing) => !isReplaced(sowing))
      .map((sowing) => {
        const on = sowing.sown ?? sowing.planned
        const isPast = on !== null && on < addDays(today, -JUST_DUE_DAYS)
        return { ...sowing, sown: isPast ? on : null, planned: isPast ? null : on }
      }),
  }
}

/** From May to August heat suits buckwheat, else cool suits oats and peas; it is the other way round in the south. */
function sownToday(bed: Bed, today: Day): Bed {
  const month = partsOf(today).month
  const species: SpeciesShare[] =
    month >= 5 && month <= 8
      ? [{ id: "buckwheat", share: 1 }]
      : [
          { id: "oats", share: 0.5 },
          { id: "field-pea", share: 0.5 },
        ]
  // In winter nobody knows the day yet; a guess would only be told as late.
  const next = { crop: "lettuce", wanted: month >= 3 && month <= 8 ? addDays(today, 90) : null }
  const sowing: Sowing = {
    id: `${bed.id}:${today}`,
    bed: bed.id,
    sown: today,
    planned: null,
    species,
    then: "leave",
    next,
  }
  return { ...bed, sowings: [sowing] }
}
