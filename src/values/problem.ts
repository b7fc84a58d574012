/** Where in a text something stands: 1-based line and column. */
export type Place = { file: string; line: number; column: number }

/**
 * One thing wrong with what a person gave us, as data; `showProblem` gives it words. All problems of one input are
 * collected and shown at once.
 */
export type Problem = {
  /** Stable name of the kind of problem, such as `unknown-key`. */
  code: string
  place: Place | null
  /** The field in words, such as `beds[2].size`. */
  field: string
  found: string
  expected: string
  /** The nearest word that would have been right. */
  nearest?: string
}

/** One line for a person: file, line, column, field, found, expected, nearest. */
export function showProblem(problem: Problem): string {
  const where = problem.place ? `${problem.place.file}:${problem.place.line}:${problem.place.column}: ` : ""
  const field = problem.field ? `${problem.field}: ` : ""
  const nearest = problem.nearest ? ` Did you mean ${problem.nearest}?` : ""
  return `${where}${field}found ${problem.found}, expected ${problem.expected}.${nearest}`
}

/** Input that cannot be used, with every problem found in it. Commands end with exit status 2 on it. */
export class WrongInput extends Error {
  readonly problems: readonly Problem[]

  constructor(problems: readonly Problem[]) {
    super(problems.map(showProblem).join("\n"))
    this.name = "WrongInput"
    this.problems = problems
  }
}

/** Something that could not be done, with the next step in the message. Commands end with exit status 1 on it. */
export class CouldNot extends Error {
  constructor(message: string, options?: ErrorOptions) {
    super(message, options)
    this.name = "CouldNot"
  }
}
