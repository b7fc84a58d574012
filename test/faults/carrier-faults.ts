/** How often the carrier misbehaves, as shares of all messages (the defaults of promises.md 3.2). */
export type CarrierFaults = {
  lostBefore: number
  lostAfter: number
  tooMany: number
  /** Half of them after the text was taken. */
  broken: number
  reportTwice: number
  reportShuffled: number
  reportFirst: number
  reportNever: number
  inboundTwice: number
  /** A tenth of what people send is posted so late at most. */
  inboundLateMs: number
  /** A person's stop that only the carrier knows of. */
  stopSilently: number
  held: number
  listFails: number
  /** The list shows a text only so long after it was taken. */
  listLagMs: number
  /** Texts are blocked after a stop word, as a carrier's own opt-out does. */
  blocks: boolean
  /** Nothing is answered at all. */
  off: boolean
}

export const USUAL_FAULTS: CarrierFaults = {
  lostBefore: 0.02,
  lostAfter: 0.02,
  tooMany: 0.01,
  broken: 0.02,
  reportTwice: 0.05,
  reportShuffled: 0.2,
  reportFirst: 0.05,
  reportNever: 0.02,
  inboundTwice: 0.05,
  inboundLateMs: 2 * 3_600_000,
  stopSilently: 0,
  held: 0.01,
  listFails: 0.1,
  listLagMs: 60_000,
  blocks: false,
  off: false,
}

export const NO_FAULTS: CarrierFaults = {
  lostBefore: 0,
  lostAfter: 0,
  tooMany: 0,
  broken: 0,
  reportTwice: 0,
  reportShuffled: 0,
  reportFirst: 0,
  reportNever: 0,
  inboundTwice: 0,
  inboundLateMs: 0,
  stopSilently: 0,
  held: 0,
  listFails: 0,
  listLagMs: 0,
  blocks: false,
  off: false,
}
