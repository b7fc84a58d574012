/** A change of one place in the source, made as the program is loaded. `from` must stand there exactly once. */
export type Plant = { file: string; from: string; to: string }
export const PLANTED: Record<string, { is: string; plants: readonly Plant[] }> = {}
