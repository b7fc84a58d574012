import { openStore } from "../../src/store/open.ts"
import { StoreTrouble } from "../../src/store/trouble.ts"
import { reply } from "./samples.ts"

/** The trouble that a piece of work ends in; an error where it ends well. */
export async function troubleWhile(work: () => Promise<unknown>): Promise<StoreTrouble> {
  try {
    await work()
  } catch (error) {
    if (error instanceof StoreTrouble) return error
    throw error
  }
  throw new Error("expected a StoreTrouble")
}

/** Uses a store in a folder and closes it. */
export async function used(folder: string): Promise<string> {
  const store = await openStore({ folder })
  await store.append([reply("one"), reply("two")])
  await store.close()
  return folder
}
