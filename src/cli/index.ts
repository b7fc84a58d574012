import type { Command } from "./command.ts"
import { cropsCommand } from "./crops.ts"
import { digest } from "./digest.ts"
import { exportAll } from "./export.ts"
import { fits } from "./fits.ts"
import { plan } from "./plan.ts"
import { run } from "./run.ts"
import { season } from "./season.ts"
import { segments } from "./segments.ts"
import { speciesCommand } from "./species.ts"

/** Every command, in the order that help shows them. */
export const COMMANDS: readonly Command[] = [
  run,
  plan,
  season,
  digest,
  fits,
  exportAll,
  speciesCommand,
  cropsCommand,
  segments,
]
