/** How often and when people are written to; every figure with its reason. */
export const LIMITS = {
  /** Set times of the day: a few batches are kinder than a steady trickle. Clamped into the person's own hours. */
  slots: [8 * 60, 17 * 60 + 30],
  /** Texts in any 7 days; frost and last calls may go over it. */
  perWeek: 4,
  /**
   * Under ten in any 30 days keeps people from leaving. The last of them is kept for frost and last calls, the two before
   * it for work (sow, water, cut, plant); questions stop first.
   */
  perMonth: { pressing: 9, work: 8, questions: 6 },
  /** The most lines that anybody acts on in one text. */
  lines: 5,
} as const
