import type { Handbook } from "../handbook/handbook.ts"
import { nearestWord } from "../values/nearest.ts"
import { add, type Found, wordAt } from "./read-parts.ts"
import { partAt, type Tree } from "./read-tree.ts"
import { readBetween, readMonthDay } from "./read-words.ts"
import { countryOf, farFromZone, fixedOffset, likelyZone, readZone, zonePlaces } from "./read-zone.ts"

/** What no single word of the place can show: a zone far away, a zone without summer time, seasons the wrong way round. */
export function checkPlace(tree: Tree, handbook: Handbook, found: Found) {
  checkClimateName(tree, handbook, found)
  checkMonths(tree, found)
  checkFrost(tree, found)
  checkZones(tree, handbook, found)
}

function checkClimateName(tree: Tree, handbook: Handbook, { problems }: Found) {
  const named = wordAt(tree, "place", "normals")
  if (!named || handbook.climates.byId(named.text)) return
  const nearest = nearestWord(named.text, handbook.climates.ids())
  const expected = "the id of a bundled climate (omit it to take the nearest stations)"
  add(problems, "unknown-climate", named.at, "place.normals", { found: named.text, expected, nearest })
}

function checkMonths(tree: Tree, { problems }: Found) {
  const months = partAt(tree, ["place", "normals"])
  if (months?.is !== "list") return
  months.items.forEach((month, index) => {
    const [low, high] = [numberAt(month, "tmin_c"), numberAt(month, "tmax_c")]
    const word = wordAt(month, "tmax_c")
    if (!word || low === null || high === null || high >= low) return
    const expected = `a maximum not below the minimum (${low})`
    add(problems, "out-of-range", word.at, `place.normals[${index + 1}].tmax_c`, { found: word.text, expected })
  })
}

function numberAt(tree: Tree, ...path: string[]): number | null {
  const word = wordAt(tree, ...path)
  const read = word ? readBetween(word.text, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY) : null
  return read && "value" in read ? read.value : null
}

/** Within so many degrees of the equator the year has no one winter. */
const TROPIC = 23.5

/** Warns where frosts stand in the seasons of the other half of the earth, or the two are confused. */
function checkFrost(tree: Tree, { warnings }: Found) {
  const latitude = numberAt(tree, "place", "latitude")
  const [last, first] = [wordAt(tree, "place", "frost", "last"), wordAt(tree, "place", "frost", "first")]
  if (!last || !first || latitude === null || Math.abs(latitude) < TROPIC) return
  if ("wrong" in readMonthDay(last.text) || "wrong" in readMonthDay(first.text)) return
  // In the north no last frost of a winter comes after July, and no first one between March and July.
  const north = (text: string) => ((Number(text.slice(0, 2)) - 1 + (latitude > 0 ? 0 : 6)) % 12) + 1
  if (north(last.text) <= 7 && (north(first.text) < 3 || north(first.text) > 7)) return
  add(warnings, "frost-order", last.at, "place.frost", {
    found: `last ${last.text}, first ${first.text}`,
    expected: `last in spring and first in autumn, such as ${latitude > 0 ? "05-04 and 10-12" : "10-12 and 04-28"} here`,
  })
}

function checkZones(tree: Tree, handbook: Handbook, { warnings }: Found) {
  const places = zonePlaces(handbook.table("zone-places"))
  const [lat, lon] = [numberAt(tree, "place", "latitude"), numberAt(tree, "place", "longitude")]
  const isOnEarth = lat !== null && lon !== null && Math.max(Math.abs(lat), Math.abs(lon)) <= 180
  const likely = () => {
    if (!isOnEarth || Math.abs(lat) > 90) return "America/New_York"
    const { where } = handbook.climates.at({ lat, lon })
    return likelyZone({ lat, lon }, places, countryOf(where, places)) ?? "America/New_York"
  }
  const written = wordAt(tree, "place", "zone")
  const people = partAt(tree, ["people"])
  const zones = [
    ...(written ? [{ word: written, field: "place.zone" }] : []),
    ...(people?.is === "list" ? people.items : []).flatMap((person) => {
      const word = wordAt(person, "zone")
      return word ? [{ word, field: `people[${wordAt(person, "id")?.text ?? "?"}].zone` }] : []
    }),
  ]
  for (const { word, field } of zones) {
    const fixed = fixedOffset(word.text)
    if (!fixed) continue
    const example = likely()
    add(warnings, "fixed-offset", word.at, field, {
      found: word.text,
      expected: `a zone of a place, such as ${example}: ${fixed}`,
      nearest: example,
    })
  }
  const zone = written ? readZone(written.text) : null
  if (!isOnEarth || !written || !zone || "wrong" in zone) return
  const far = farFromZone({ lat, lon }, zone.value, places)
  if (!far) return
  const word = wordAt(tree, "place", "longitude") ?? written
  const expected = far.likely ? `a place near its zone: perhaps ${far.likely}` : "a place near its zone"
  add(warnings, "place-far-from-zone", word.at, "place", { found: far.odd, expected })
}
