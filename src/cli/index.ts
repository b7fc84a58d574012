import { backup } from "./backup.ts"
import { check } from "./check.ts"
import type { Command } from "./command.ts"
import { cropsCommand } from "./crops.ts"
import { digest } from "./digest.ts"
import { estimateCommand } from "./estimate.ts"
import { exportAll } from "./export.ts"
import { fits } from "./fits.ts"
import { importGardens } from "./import.ts"
import { log } from "./log.ts"
import { plan } from "./plan.ts"
import { replyOfCommand } from "./reply-of.ts"
import { restore } from "./restore.ts"
import { run } from "./run.ts"
import { season } from "./season.ts"
import { segments } from "./segments.ts"
import { serveCheck } from "./serve-check.ts"
import { speciesCommand } from "./species.ts"
import { understandCommand } from "./understand.ts"

/** Every command, in the order that help shows them. */
export const COMMANDS: readonly Command[] = [
  run,
  plan,
  season,
  digest,
  check,
  fits,
  log,
  exportAll,
  importGardens,
  speciesCommand,
  cropsCommand,
  backup,
  restore,
  estimateCommand,
  understandCommand,
  segments,
  serveCheck,
  replyOfCommand,
]
