import { smsHooks as really } from "../../src/channels/sms-hooks.ts"
import { step } from "./step.ts"

/** Stands in for `src/channels/sms-hooks.ts`: the same reading of webhooks, with named steps around it. */
export * from "../../src/channels/sms-hooks.ts"

export const smsHooks: typeof really = (options) => {
  const hooks = really(options)
  return {
    ...hooks,
    async readInbound(posted, now) {
      step("body read")
      const read = await hooks.readInbound(posted, now)
      step("signature ok")
      return read
    },
    async readStatus(posted) {
      step("status in")
      return hooks.readStatus(posted)
    },
  }
}
