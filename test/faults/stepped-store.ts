import type { Store } from "../../src/bot/needs.ts"
import { openStore as really } from "../../src/store/open.ts"
import { step } from "./step.ts"
import { insideIs } from "./stepped-connection.ts"
import type { StepName } from "./steps.ts"

/** Stands in for `src/store/open.ts`: the same store, with named steps around its verbs. */
export * from "../../src/store/open.ts"

export const openStore: typeof really = async (options) => {
  insideIs("opening in tx")
  const store = await really(options)
  insideIs(null)
  return { ...store, ...stepped(store) }
}

/** Runs a verb whose transaction holds the step `inside`. A verb's work is done when it returns its promise. */
function within<T>(inside: StepName | null, verb: () => Promise<T>): Promise<T> {
  insideIs(inside)
  try {
    return verb()
  } finally {
    insideIs(null)
  }
}

function stepped(store: Store): Partial<Store> {
  return {
    append: (entries, seen) =>
      within(entries.some((entry) => entry.kind === "lapsed") ? "lapsed in tx" : null, () =>
        store.append(entries, seen),
      ),
    async keepIncoming(incoming) {
      const is = await within("words in tx", () => store.keepIncoming(incoming))
      step("words committed")
      if (incoming.extra?.read === "list") step("list merged")
      return is
    },
    async claimIncoming(now, leaseMs) {
      const claimed = await store.claimIncoming(now, leaseMs)
      if (claimed) step("reply claimed")
      return claimed
    },
    async settleIncoming(id, entries, outgoing, seen) {
      step("acts derived")
      const kept = await within("answer in tx", () => store.settleIncoming(id, entries, outgoing, seen))
      step("answer committed")
      return kept
    },
    placeReminders: (garden, rows) => within("reminders placed in tx", () => store.placeReminders(garden, rows)),
    async claimPerson(now, leaseMs) {
      const due = await store.claimPerson(now, leaseMs)
      if (due) step("due known")
      return due
    },
    async settlePerson(due, outgoing, moved, entries, seen) {
      const speaks = outgoing.length > 0
      if (speaks) step("composed")
      const done = await within(speaks ? "outbox in tx" : null, () =>
        store.settlePerson(due, outgoing, moved, entries, seen),
      )
      if (speaks) step("outbox committed")
      return done
    },
    async queue(outgoing) {
      const digest = outgoing.some((message) => message.kind === "digest")
      if (digest) step("digest rendered")
      const keys = await within(digest ? "digest in tx" : null, () => store.queue(outgoing))
      if (digest) step("digest committed")
      return keys
    },
    async remember(name, value) {
      await store.remember(name, value)
      if (name.startsWith("digest:")) step("digest marked")
    },
    async claimOutgoing(now, leaseMs) {
      const message = await within("claimed in tx", () => store.claimOutgoing(now, leaseMs))
      if (message) step("claimed")
      return message
    },
    async settleOutgoing(key, attempt, outcome, entries) {
      const isTry = called.delete(key)
      const isSent = isTry && outcome.is === "sent"
      const inside = isTry ? (isSent ? "sent in tx" : null) : "reconciled in tx"
      const done = await within(inside, () => store.settleOutgoing(key, attempt, outcome, entries))
      if (isSent) step("sent committed")
      return done
    },
    async recordFate(key, fate, code) {
      const moved = await within("status in tx", () => store.recordFate(key, fate, code))
      step("status committed")
      return moved
    },
  }
}

const called = new Set<string>()

/** Tells that a channel was called for a message by this process, so that what is settled next is a try and no reconciling. */
export function wasCalled(key: string): void {
  called.add(key)
}
