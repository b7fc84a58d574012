import { everyWording, tableOf } from "./wordings.ts"

/** Prints every wording that the bot can send, at the longest realistic names: `npx node test/wording/table.ts`. */
console.log(tableOf(everyWording()))
