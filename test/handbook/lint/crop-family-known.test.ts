import { expect, test } from "vitest"
import type { Crop } from "../../../src/handbook/crop.ts"
import { allCrops, complaints } from "./entries.ts"

/** Families of the vegetables, herbs and berries of a garden. From memory of botany. */
const families = new Set(
  (
    "Amaranthaceae Amaryllidaceae Apiaceae Asparagaceae Asteraceae Brassicaceae Convolvulaceae Cucurbitaceae " +
    "Fabaceae Lamiaceae Malvaceae Poaceae Rosaceae Solanaceae"
  ).split(" "),
)
const rule = ({ family }: Crop) => (families.has(family) ? [] : [`is of the unknown family ${family}`])

test("every crop is of a known family", () => {
  expect(complaints(allCrops, rule)).toEqual([])
})

test("a misspelt family is caught", () => {
  expect(rule({ ...allCrops[0]!, family: "Brassicacea" })).toEqual(["is of the unknown family Brassicacea"])
})
