/**
 * The named steps at which the running program is killed, in the order in which they are passed. `by` says who strikes:
 * `child` the process itself, at the seam of an interface; `carrier` and `post` the stand-ins, at a moment of the talk.
 * Steps "in tx" lie inside the transaction, after its statements and before its commit.
 */
export const STEPS = {
  "opening in tx": { by: "child", of: "start" },
  tick: { by: "child", of: "out" },
  "lapsed in tx": { by: "child", of: "out" },
  "reminders placed in tx": { by: "child", of: "out" },
  "due known": { by: "child", of: "out" },
  composed: { by: "child", of: "out" },
  "outbox in tx": { by: "child", of: "out" },
  "outbox committed": { by: "child", of: "out" },
  "claimed in tx": { by: "child", of: "out" },
  claimed: { by: "child", of: "out" },
  calling: { by: "child", of: "out" },
  "request half written": { by: "carrier", of: "out" },
  "request written": { by: "carrier", of: "out" },
  "request accepted": { by: "carrier", of: "out" },
  "response sent": { by: "carrier", of: "out" },
  "response read": { by: "child", of: "out" },
  "sent in tx": { by: "child", of: "out" },
  "sent committed": { by: "child", of: "out" },
  "mail half written": { by: "post", of: "out" },
  "mail taken": { by: "post", of: "out" },
  "asking the list": { by: "carrier", of: "out" },
  "list answered": { by: "carrier", of: "out" },
  "reconciled in tx": { by: "child", of: "out" },
  "status in": { by: "child", of: "out" },
  "status in tx": { by: "child", of: "out" },
  "status committed": { by: "child", of: "out" },
  "body read": { by: "child", of: "in" },
  "signature ok": { by: "child", of: "in" },
  "words in tx": { by: "child", of: "in" },
  "words committed": { by: "child", of: "in" },
  "200 sent": { by: "carrier", of: "in" },
  "reply claimed": { by: "child", of: "in" },
  "acts derived": { by: "child", of: "in" },
  "answer in tx": { by: "child", of: "in" },
  "answer committed": { by: "child", of: "in" },
  "inbound list read": { by: "carrier", of: "in" },
  "list merged": { by: "child", of: "in" },
  "digest rendered": { by: "child", of: "rest" },
  "digest in tx": { by: "child", of: "rest" },
  "digest committed": { by: "child", of: "rest" },
  "digest marked": { by: "child", of: "rest" },
  "reload parsed": { by: "child", of: "rest" },
  "reload swapped": { by: "child", of: "rest" },
} as const satisfies Record<string, { by: "child" | "carrier" | "post"; of: "start" | "out" | "in" | "rest" }>

export type StepName = keyof typeof STEPS
export const STEP_NAMES = Object.keys(STEPS) as StepName[]

/** What happens at a step: the process dies, or the code there throws. */
export type Strike = { step: StepName; nth: number; action: "kill" | "throw" }
