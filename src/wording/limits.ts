/** How often and when people are written to; every figure with its reason. */
export const LIMITS = {
  /** Set times of the day: a few batches are kinder than a steady trickle. Clamped into the person's own hours. */
  slots: [8 * 60, 17 * 60 + 30],
  /** Texts in any 7 days; frost and last calls may go over it. */
  perWeek: 4,
  /** Under ten in any 30 days keeps people from leaving. */
  perMonth: 9,
  /** Of those the last ones are kept for frost and last calls. */
  perMonthPlain: 7,
  /** The most lines that anybody acts on in one text. */
  lines: 5,
} as const
