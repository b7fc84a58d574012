/** Least squares for a handful of parameters: Levenberg and Marquardt, as in Press et al., Numerical Recipes, from memory. */
export type Fitted = {
  at: Float64Array
  /** Lower triangle of the inverse root of the curvature: a standard normal draw times it departs as the fit allows. */
  spread: Float64Array[]
  cost: number
  rounds: number
}

/** Residuals of one block of data; a block hangs on some of the parameters only, so that the others are not walked for it. */
export type Block = { hangsOn: readonly number[]; residuals(at: Float64Array): Float64Array }

/**
 * The parameters with the least sum of squares over all blocks and over themselves: each is a standard normal by its prior.
 * `limits`: least and most of each parameter.
 */
export function leastSquares(blocks: readonly Block[], limits: readonly [number, number][], rounds = 40): Fitted {
  const size = limits.length
  let at = new Float64Array(size)
  limits.forEach(([low, high], i) => {
    at[i] = Math.min(high, Math.max(low, 0))
  })
  let found = blocks.map((block) => block.residuals(at))
  let cost = total(found, at)
  let damp = 1e-2
  let curvature = normalEquations(blocks, found, at, limits)
  let round = 0
  for (; round < rounds; round += 1) {
    const step = solve(damped(curvature.matrix, damp), curvature.gradient)
    const next = Float64Array.from(at, (value, i) => {
      const [low, high] = limits[i]!
      return Math.min(high, Math.max(low, value - (step?.[i] ?? 0)))
    })
    const then = blocks.map((block) => block.residuals(next))
    const better = step ? total(then, next) : Number.POSITIVE_INFINITY
    if (better < cost) {
      const gain = (cost - better) / cost
      at = next
      found = then
      cost = better
      damp = Math.max(1e-6, damp / 4)
      if (gain < 1e-6) break
      curvature = normalEquations(blocks, found, at, limits)
    } else {
      damp *= 5
      if (damp > 1e6) break
    }
  }
  curvature = normalEquations(blocks, found, at, limits)
  return { at, spread: inverseRoot(curvature.matrix), cost, rounds: round }
}

function total(found: readonly Float64Array[], at: Float64Array): number {
  let sum = 0
  for (const block of found) for (const value of block) sum += value * value
  for (const value of at) sum += value * value
  return sum
}

function normalEquations(
  blocks: readonly Block[],
  found: readonly Float64Array[],
  at: Float64Array,
  limits: readonly [number, number][],
) {
  const size = at.length
  const matrix = Array.from({ length: size }, (_, i) => {
    const row = new Float64Array(size)
    row[i] = 1
    return row
  })
  const gradient = Float64Array.from(at)
  blocks.forEach((block, b) => {
    const here = found[b]!
    const columns = block.hangsOn.map((i) => {
      const step = at[i]! + 2e-2 > limits[i]![1] ? -2e-2 : 2e-2
      const moved = Float64Array.from(at)
      moved[i] = at[i]! + step
      return block.residuals(moved).map((value, row) => (value - here[row]!) / step)
    })
    block.hangsOn.forEach((i, a) => {
      for (let row = 0; row < here.length; row += 1) gradient[i]! += columns[a]![row]! * here[row]!
      block.hangsOn.forEach((j, c) => {
        let sum = 0
        for (let row = 0; row < here.length; row += 1) sum += columns[a]![row]! * columns[c]![row]!
        matrix[i]![j]! += sum
      })
    })
  })
  return { matrix, gradient }
}

function damped(matrix: readonly Float64Array[], damp: number): Float64Array[] {
  return matrix.map((row, i) => {
    const copy = Float64Array.from(row)
    copy[i] = row[i]! * (1 + damp)
    return copy
  })
}

/** Lower triangle L of a symmetric matrix with L times its transpose the matrix; null where it is not positive. */
export function cholesky(matrix: readonly Float64Array[]): Float64Array[] | null {
  const size = matrix.length
  const lower = Array.from({ length: size }, () => new Float64Array(size))
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j <= i; j += 1) {
      let sum = matrix[i]![j]!
      for (let k = 0; k < j; k += 1) sum -= lower[i]![k]! * lower[j]![k]!
      if (i === j) {
        if (!(sum > 0)) return null
        lower[i]![i] = Math.sqrt(sum)
      } else lower[i]![j] = sum / lower[j]![j]!
    }
  return lower
}

/** Solves L x = b for a lower triangle. */
export function forward(lower: readonly Float64Array[], b: ArrayLike<number>): Float64Array {
  const x = new Float64Array(lower.length)
  for (let i = 0; i < x.length; i += 1) {
    let sum = b[i]!
    for (let k = 0; k < i; k += 1) sum -= lower[i]![k]! * x[k]!
    x[i] = sum / lower[i]![i]!
  }
  return x
}

/** Solves the transpose of L for x. */
function backward(lower: readonly Float64Array[], b: ArrayLike<number>): Float64Array {
  const x = new Float64Array(lower.length)
  for (let i = x.length - 1; i >= 0; i -= 1) {
    let sum = b[i]!
    for (let k = i + 1; k < x.length; k += 1) sum -= lower[k]![i]! * x[k]!
    x[i] = sum / lower[i]![i]!
  }
  return x
}

function solve(matrix: readonly Float64Array[], b: ArrayLike<number>): Float64Array | null {
  const lower = cholesky(matrix)
  return lower && backward(lower, forward(lower, b))
}

/** Columns of the inverse transpose of the curvature's triangle: their products with normal draws have the fit's covariance. */
function inverseRoot(matrix: readonly Float64Array[]): Float64Array[] {
  const lower = cholesky(matrix)
  if (!lower) throw new Error("the fit has no curvature: a parameter lacks its prior")
  const size = matrix.length
  return Array.from({ length: size }, (_, i) => {
    const unit = new Float64Array(size)
    unit[i] = 1
    return backward(lower, unit)
  })
}
