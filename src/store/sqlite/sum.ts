import { crc32 } from "node:zlib"
import { damaged } from "../trouble.ts"

/** CRC-32 of a body: finds a damaged byte, which the engine's own checks do not see inside a text. */
export function sumOf(body: string): number {
  return crc32(body)
}

/** The body where it is what was written; throws a StoreTrouble `damaged` that names the row where it is not. */
export function sealed(row: { body: string; sum: number }, file: string, name: string): string {
  if (sumOf(row.body) !== row.sum) throw damaged(file, `${name} is not what was written`)
  return row.body
}
