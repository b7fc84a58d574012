import type { Command } from "./command.ts"

/** Every command, in the order that help shows them. Each is loaded when it is asked for: most of what one needs no other does. */
export const COMMANDS: Readonly<Record<string, () => Promise<Command>>> = {
  run: async () => (await import("./run.ts")).run,
  plan: async () => (await import("./plan.ts")).plan,
  season: async () => (await import("./season.ts")).season,
  digest: async () => (await import("./digest.ts")).digest,
  check: async () => (await import("./check.ts")).check,
  fits: async () => (await import("./fits.ts")).fits,
  log: async () => (await import("./log.ts")).log,
  export: async () => (await import("./export.ts")).exportAll,
  import: async () => (await import("./import.ts")).importGardens,
  species: async () => (await import("./species.ts")).speciesCommand,
  crops: async () => (await import("./crops.ts")).cropsCommand,
  backup: async () => (await import("./backup.ts")).backup,
  restore: async () => (await import("./restore.ts")).restore,
  estimate: async () => (await import("./estimate.ts")).estimateCommand,
  understand: async () => (await import("./understand.ts")).understandCommand,
  segments: async () => (await import("./segments.ts")).segments,
  "serve-check": async () => (await import("./serve-check.ts")).serveCheck,
  "reply-of": async () => (await import("./reply-of.ts")).replyOfCommand,
}
