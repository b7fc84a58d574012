import { describe, expect, it } from "vitest"
import { readBedCommand } from "../../src/replies/bed-command.ts"

const BEDS = [
  { id: "south", name: "South bed", also: ["long one"] },
  { id: "b2", name: "Bed 2", also: [] },
  { id: "tunnel", name: "Tunnel", also: [] },
]

describe("words that change which beds there are", () => {
  it.each([
    ["add bed: north, 4x8, winter rye sown 3 oct", "north, 4x8, winter rye sown 3 oct"],
    ["Add a bed", ""],
    ["please add another bed called North, 4x8 ft", "North, 4x8 ft"],
    ["I'd like to add a new bed.", ""],
    ["ADD BED", ""],
    ["new bed: north 4x8", "north 4x8"],
    ["New bed", ""],
    ["add the north bed, 4 x 8 ft, oats today", "north bed, 4 x 8 ft, oats today"],
    ["add bed\nnorth, 3 m2", "north, 3 m2"],
  ])("%j adds one", (text, rest) => {
    expect(readBedCommand(text, BEDS)).toEqual({ is: "add", rest })
  })

  it.each([
    ["drop bed south", "south"],
    ["Drop the south bed.", "south"],
    ["remove South bed", "south"],
    ["please leave out the south bed", "south"],
    ["delete bed 2", "b2"],
    ["drop bed long one", "south"],
    ["drop the tunnel bed", "tunnel"],
    ["drop bed", null],
    ["drop bed north", null],
  ])("%j leaves one out", (text, bed) => {
    expect(readBedCommand(text, BEDS)).toEqual({ is: "drop", bed })
  })

  it.each([
    "new bed looks great",
    "new bed is up",
    "add compost to the north bed 4 inches",
    "added 2 cans of water to south bed",
    "add straw on south bed",
    "add mulch 2 in deep to bed 2",
    "remove the rye from the south bed",
    "removed the south bed cover",
    "drop south",
    "drop the rye in the south bed",
    "seeds drop on south bed",
    "the bed is added",
    "remove slugs from bed 2",
    "leave the south bed",
    "cut south bed",
    "sowed rye in south bed yesterday",
    "stop",
    "",
  ])("%j does not", (text) => {
    expect(readBedCommand(text, BEDS)).toBeNull()
  })
})
