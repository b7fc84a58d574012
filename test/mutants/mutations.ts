import { parseAst } from "vitest/node"

/** One small wrong in a source file: the expression from `start` to `end` becomes `to`. */
export type Mutation = { file: string; line: number; start: number; end: number; from: string; to: string }

type Node = { type: string; start: number; end: number; [key: string]: unknown }

const COMPARED: Record<string, readonly string[]> = {
  "<": ["<=", ">="],
  "<=": ["<", ">"],
  ">": [">=", "<="],
  ">=": [">", "<"],
  "===": ["!=="],
  "!==": ["==="],
}
const RECKONED: Record<string, readonly string[]> = { "+": ["-"], "-": ["+"], "*": ["/"], "/": ["*"], "%": ["*"] }
const JOINED: Record<string, readonly string[]> = { "&&": ["||"], "||": ["&&"], "??": ["&&"] }
const CALLED: Record<string, string> = { min: "max", max: "min", some: "every", every: "some" }

/** Every mutation of a source file: conditions, comparisons, arithmetic, booleans and what is returned. */
export function mutationsOf(file: string, code: string): Mutation[] {
  const found: Mutation[] = []
  const add = (node: Node, ...to: string[]) => {
    const from = code.slice(node.start, node.end)
    const line = code.slice(0, node.start).split("\n").length
    for (const each of to) found.push({ file, line, start: node.start, end: node.end, from, to: each })
  }
  walk(parseAst(code, { lang: "ts" }) as unknown as Node, (node) => {
    add(node, ...variantsOf(node, code))
    if (node.type === "IfStatement" || node.type === "ConditionalExpression") add(node.test as Node, "true", "false")
    // "true" would be a loop without an end, which proves nothing but patience.
    if (node.type === "WhileStatement") add(node.test as Node, "false")
    const returned = returnedBy(node)
    if (returned) add(returned, ...instead(returned, code))
  })
  const seen = new Set<string>()
  return found.filter(({ start, end, to }) => {
    const key = `${start} ${end} ${to}`
    return !seen.has(key) && seen.add(key)
  })
}

/** What an expression itself may wrongly be. */
function variantsOf(node: Node, code: string): string[] {
  const text = (each: unknown) => code.slice((each as Node).start, (each as Node).end)
  switch (node.type) {
    case "BinaryExpression":
    case "LogicalExpression": {
      const operator = node.operator as string
      if (operator === "+" && (isText(node.left as Node) || isText(node.right as Node))) return []
      // Brackets round the sides belong to neither of them.
      const at = code.indexOf(operator, (node.left as Node).end)
      const [left, right] = [code.slice(node.start, at), code.slice(at + operator.length, node.end)]
      const others = COMPARED[operator] ?? RECKONED[operator] ?? JOINED[operator] ?? []
      return others.map((other) => `(${left.trim()}) ${other} (${right.trim()})`)
    }
    case "Literal":
      return typeof node.value === "boolean" ? [String(!node.value)] : []
    case "UnaryExpression":
      return node.operator === "!" ? [text(node.argument)] : []
    case "CallExpression": {
      const callee = node.callee as Node
      const property = callee.type === "MemberExpression" ? (callee.property as Node) : null
      const other = property ? CALLED[text(property)] : undefined
      return property && other
        ? [code.slice(node.start, property.start) + other + code.slice(property.end, node.end)]
        : []
    }
    default:
      return []
  }
}

/** The expression that a return or an arrow hands back. */
function returnedBy(node: Node): Node | null {
  if (node.type === "ReturnStatement") return node.argument as Node | null
  return node.type === "ArrowFunctionExpression" && node.expression === true ? (node.body as Node) : null
}

/** What is handed back in place of an expression: nothing of its kind. What other rules mutate is left to them. */
function instead(node: Node, code: string): string[] {
  const text = code.slice(node.start, node.end)
  if (node.type === "Literal" && (node.value === null || typeof node.value === "boolean")) return []
  if (text === "undefined" || text === "[]" || text === '""') return []
  if (node.type === "ArrayExpression") return ["[]"]
  if (isText(node)) return ['""']
  if (node.type === "BinaryExpression" && (node.operator as string) in COMPARED) return ["true", "false"]
  if (node.type === "LogicalExpression" || (node.type === "UnaryExpression" && node.operator === "!")) return []
  return ["null"]
}

function isText(node: Node): boolean {
  return node.type === "TemplateLiteral" || (node.type === "Literal" && typeof node.value === "string")
}

/** All nodes that run: types are passed by. */
function walk(node: Node, visit: (node: Node) => void): void {
  if (node.type.startsWith("TS") && !("expression" in node)) return
  if (node.type === "ImportDeclaration") return
  visit(node)
  for (const [key, value] of Object.entries(node)) {
    if (key === "typeAnnotation" || key === "returnType" || key === "typeParameters" || key === "typeArguments")
      continue
    for (const each of Array.isArray(value) ? value : [value])
      if (each !== null && typeof each === "object" && typeof (each as Node).type === "string")
        walk(each as Node, visit)
  }
}

/** The source with one mutation in it. */
export function mutated(code: string, { start, end, to }: Mutation): string {
  return `${code.slice(0, start)}(${to})${code.slice(end)}`
}

/** Where a mutation is, and its number among those that are tried. */
export type Site = { start: number; end: number; number: number }

/** The source as it is, but telling which of the mutated expressions a test comes by: `reachedByTest` takes their numbers. */
export function watched(code: string, sites: readonly Site[]): string {
  const inserts = sites.flatMap(({ start, end, number }) => [
    { at: start, opens: true, end, text: `(globalThis.reachedByTest?.add(${number}),` },
    { at: end, opens: false, end, text: ")" },
  ])
  // From the end on, so that places stay what they are. What is put in later stands before what is there: brackets that
  // close before those that open, the widest expression outside.
  inserts.sort((a, b) => b.at - a.at || Number(b.opens) - Number(a.opens) || a.end - b.end)
  let text = code
  for (const { at, text: insert } of inserts) text = text.slice(0, at) + insert + text.slice(at)
  return text
}
