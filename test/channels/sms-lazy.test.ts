import { execFileSync } from "node:child_process"
import { describe, expect, it } from "vitest"

/** Files of the carrier's library that a fresh Node has loaded after this script. */
function loadedBy(script: string): string[] {
  const out = execFileSync(
    process.execPath,
    [
      "--input-type=module",
      "-e",
      `import { createRequire } from "node:module"
       const here = ${JSON.stringify(new URL("../../src/channels/", import.meta.url).href)}
       ${script}
       const loaded = Object.keys(createRequire(here + "x.js").cache)
       console.log(JSON.stringify(loaded.filter((file) => file.includes("node_modules/twilio/"))))`,
    ],
    { encoding: "utf8" },
  )
  return (JSON.parse(out) as string[]).map((file) => file.replace(/^.*node_modules\/twilio\//, ""))
}

describe("the carrier's library", () => {
  it("is not loaded by a bot that has a channel for texts and sends none", () => {
    const script = `const { smsChannel } = await import(here + "sms-twilio.ts")
      smsChannel({ accountSid: "AC1", authToken: "x", from: "+1", wait: () => 1, now: () => 0 })`
    expect(loadedBy(script)).toEqual([])
  })

  it("is loaded in the part that checks signatures by one that only receives", () => {
    const script = `const { smsHooks } = await import(here + "sms-hooks.ts")
      await smsHooks({ tokens: ["x"] }).readInbound({ address: "https://a.example/", signature: "x", contentType: "", body: "" }, 0)`
    expect(loadedBy(script)).toEqual(["lib/webhooks/webhooks.js"])
  })
})
