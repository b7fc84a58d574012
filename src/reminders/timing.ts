/**
 * The waits and limits of reminders, in days. They are the product's own rules, not figures of the literature; each says
 * why it is as it is.
 */
export const TIMING = {
  /** A last call comes while there is still a weekend evening or two to act on. */
  lastCallBefore: 2,
  /** Windows up to this long get no call in the middle: two calls are enough for them. */
  middleCallFrom: 10,
  /** Days between two calls of one reminder to one person. */
  betweenCalls: 2,
  /** What was reported so long before a window opens, or later, shows that somebody is watching. */
  watchedSince: 7,
  /** Past its limit a cut is mentioned once more on the first full day after it. */
  afterLimit: 1,
  /** Past its limit a cut stays open for a reply this long, though only the weekly mail speaks of it. */
  cutStaysOpen: 21,
  /** A call is worth saying anew when the day it was about has moved later by more than this. */
  movedEnough: 6,
  /** A reminder that was snoozed past its end stays open this long after the day it was snoozed to. */
  afterSnooze: 3,
  /** A flowering range longer than this says little by its end, and a text names only its beginning. */
  rangeTold: 45,
  /** A flowering range longer than this, not seen yet, makes a cutting day so unsure that the text asks for a look. */
  bloomUnsure: 21,
  /** "No bloom yet": look again after this many days. */
  noBloomYet: 6,
  /** "Not up yet": look again after this many days. */
  notUpYet: 4,
  /** Seed that was watered in is asked about no more after this many days, if nothing came up. */
  waterIn: 10,
  /** How long a question about seedlings stays open where nothing can be sown again. */
  emergenceOpen: 14,
  /** A planting that was wanted on a day is mentioned this much ahead, if the bed is ready. */
  plantAhead: 2,
  /** A look at the rotting stems is worth a text only when planting is wanted so soon after. */
  lookForPlanting: 28,
  /** A bed that will be late by less is not worth a text: the day is a guess of a few days. */
  lateWorthTelling: 4,
  /** How long "ready to plant" stays open. */
  plantOpen: 21,
  /** How long the end of the rest stays open where no crop was named. */
  restOverOpen: 14,
  /** Texts of one kind without any answer, after which only first and last calls are said. */
  unanswered: 3,
  /** A number belongs to its reminder for so long after it was last used. */
  numberKept: 30,
} as const
