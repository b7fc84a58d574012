import type { Channel, Outgoing, SendOutcome } from "../bot/needs.ts"
import type { Instant } from "../values/instant.ts"

/** A message as it left on paper. */
export type OnPaper = { at: Instant; message: Outgoing }

/** A channel that collects instead of sending: for a season played through, and for trials. */
export function paperChannel(collect: (sent: OnPaper) => void): Channel {
  return {
    via: "file",
    async send(message: Outgoing, now: Instant): Promise<SendOutcome> {
      collect({ at: now, message })
      return { is: "sent", carrierId: null }
    },
    async wasTaken() {
      return { taken: false, carrierId: null }
    },
  }
}
