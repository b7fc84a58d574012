import { nearestWord } from "../values/nearest.ts"
import { WrongInput } from "../values/problem.ts"

/**
 * The entry of an id. WrongInput where there is none, with the nearest id: the one that is called so, or else the one
 * whose id or name is spelt most like it.
 */
export function findEntry<Entry extends { id: string; names: readonly string[] }>(
  entries: ReadonlyMap<string, Entry>,
  id: string,
  kind: "species" | "crop",
): Entry {
  const entry = entries.get(id)
  if (entry) return entry
  const ids = new Map<string, string>()
  for (const one of entries.values())
    for (const word of [one.id, ...one.names]) if (!ids.has(word)) ids.set(word, one.id)
  const word = nearestWord(id, ids.keys())
  const nearest = word === undefined ? undefined : ids.get(word)
  throw new WrongInput([
    {
      code: `unknown-${kind}`,
      place: null,
      field: kind,
      found: JSON.stringify(id),
      expected: `an id of the list that the command gives without one`,
      ...(nearest === undefined ? {} : { nearest }),
    },
  ])
}
