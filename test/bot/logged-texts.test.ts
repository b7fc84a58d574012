import { describe, expect, it } from "vitest"
import { addMs, MINUTE_MS } from "../../src/values/instant.ts"
import { aBed, aGarden, aPerson, aSowing, at } from "../given.ts"
import { aHouse } from "./given-house.ts"

const INES = "+17175550142"

describe("the log", () => {
  it("names every text that went out by the key under which the carrier tells its fate", async () => {
    const house = aHouse(
      aGarden({ people: [aPerson()], beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })] }),
    )
    const morning = at("2026-05-05 09:00")
    await house.says(INES, "JOIN", morning)
    await house.says(INES, "why", addMs(morning, 5 * MINUTE_MS))
    await house.at(addMs(morning, 10 * MINUTE_MS))
    const named = (await house.log()).flatMap((entry) =>
      entry.kind === "sent" || entry.kind === "answer" ? [entry.message] : [],
    )
    expect(new Set(house.texts.map(({ kind }) => kind))).toEqual(new Set(["answer", "nudge"]))
    expect(named).toEqual(house.texts.map(({ key }) => key))
  })
})
