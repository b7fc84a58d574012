import { expect, it } from "vitest"
import { FRESH, readGardens } from "./gardens.ts"
import { Dice, faultsOf } from "./mutate.ts"

const FIXTURES = new URL("../fixtures/replies/", import.meta.url)

it("20,000 mutated replies break no rule: no crash, no target outside the garden, every stop obeyed, no act after not yet", () => {
  const gardens = FRESH.flatMap((name) => Object.values(readGardens(new URL(`${name}-contexts.json`, FIXTURES))))
  const dice = new Dice(20260513)
  const faults: string[] = []
  for (let i = 0; i < 20_000 && faults.length < 20; i += 1) faults.push(...faultsOf(dice, dice.pick(gardens)))
  expect(faults).toEqual([])
}, 120_000)
