import { WrongInput } from "../values/problem.ts"
import type { World } from "./command.ts"

/**
 * Answers JSON Lines with JSON Lines, one for each, in order. A line that is no JSON, or that `answer` throws on, gives
 * `{"error": ...}` in its place (with its id where it has one) and does not stop the rest. Empty lines are passed over.
 */
export async function answerLines(world: World, answer: (line: unknown) => unknown): Promise<number> {
  for await (const line of world.input()) {
    if (line.trim() === "") continue
    world.out(JSON.stringify(answerLine(line, answer)))
  }
  return 0
}

function answerLine(line: string, answer: (line: unknown) => unknown): unknown {
  let value: unknown
  try {
    value = JSON.parse(line)
  } catch {
    return { error: "not JSON: expected one JSON object a line" }
  }
  try {
    return answer(value)
  } catch (error) {
    const id = typeof value === "object" && value !== null && "id" in value ? { id: value.id } : {}
    const message = error instanceof WrongInput || error instanceof Error ? error.message : String(error)
    return { ...id, error: message }
  }
}
