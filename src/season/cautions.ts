import { z } from "zod"
import { tableReader } from "../agronomy/table.ts"
import type { Then } from "../garden/garden.ts"
import { type Caution, caution } from "../handbook/species.ts"
import type { Setting } from "./setting.ts"
import type { Member } from "./stand.ts"

const cautionsTable = tableReader(
  "cautions",
  z.strictObject({ about: z.string(), blades: caution, inoculant: caution, fumes: caution }),
)

/** The cautions of a sowing: its species' own, dust at sowing, fumes of mustard turned in, blades at the cut. */
export function cautionsOf(members: readonly Member[], then: Then, toBeCut: boolean, setting: Setting): Caution[] {
  const table = cautionsTable(setting.handbook)
  const green = members.some((member) => member.species.biofumigant && member.species.kind === "brassica")
  const own = members.flatMap((member) => member.species.cautions)
  const said = (about: Caution["about"]) => own.some((one) => one.about === about)
  return [
    ...own.filter((one, place) => own.findIndex((other) => other.text === one.text) === place),
    ...(members.some((member) => member.species.inoculant) && !said("dust") ? [table.inoculant] : []),
    ...(green && (then === "turn-in" || then === "tarp") && !said("fumes") ? [table.fumes] : []),
    ...(toBeCut ? [table.blades] : []),
  ]
}
