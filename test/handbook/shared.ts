import { openHandbook } from "../../src/handbook/open.ts"

/** The project's reference data. */
export const sharedFolder = new URL("../../shared/", import.meta.url)

export const handbook = openHandbook(sharedFolder)
