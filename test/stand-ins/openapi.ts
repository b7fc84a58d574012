/**
 * Holds requests and answers against a published OpenAPI description, so that a stand-in takes nothing that the real
 * service would not, and says nothing that it could not. The part of JSON Schema that such descriptions use is checked;
 * what is not listed in them is let through, as the services themselves add keys without notice.
 */
import { existsSync, readFileSync } from "node:fs"

type Json = unknown
type Schema = Record<string, Json>
type Parameter = {
  name: string
  in: string
  required?: boolean
  schema?: Schema
  style?: string
  explode?: boolean
}
type Media = Record<string, { schema?: Schema }>
type Operation = {
  operationId: string
  parameters?: Parameter[]
  requestBody?: { content: Media }
  responses: Record<string, { content?: Media }>
}
export type Description = {
  paths: Record<string, Record<string, Operation>>
  components?: { schemas?: Record<string, Schema> }
}

/** A published description, where the folder of references lies beside the checkout; null where it does not. */
export function description(name: string): Description | null {
  const file = new URL(`../../../shared/reference/${name}`, import.meta.url)
  return existsSync(file) ? (JSON.parse(readFileSync(file, "utf8")) as Description) : null
}

export type Asked = {
  method: string
  path: string
  query: URLSearchParams
  headers: Record<string, string>
  form?: URLSearchParams
}

/** Everything wrong with a request, in words; empty: it is as described. */
export function wrongWithRequest(api: Description, asked: Asked): string[] {
  const found = operationOf(api, asked.method, asked.path)
  if (!found) return [`${asked.method} ${asked.path}: no such operation`]
  const { operation, inPath } = found
  const known = (operation.parameters ?? []).filter((each) => each.in === "query").map((each) => each.name)
  const wrong = [...new Set(asked.query.keys())]
    .filter((name) => !known.includes(name))
    .map((name) => `query ${name}: not described`)
  for (const parameter of operation.parameters ?? []) {
    const values = valuesOf(parameter, asked, inPath)
    if (values.length === 0) {
      if (parameter.required) wrong.push(`${parameter.in} ${parameter.name}: missing`)
      continue
    }
    const value = fromText(
      values,
      parameter.schema ?? {},
      api,
      parameter.style === "form" && parameter.explode === false,
    )
    wrong.push(...wrongWith(api, parameter.schema ?? {}, value, `${parameter.in} ${parameter.name}`))
  }
  const body = operation.requestBody?.content["application/x-www-form-urlencoded"]?.schema
  if (body) wrong.push(...wrongWithForm(api, body, asked.form ?? new URLSearchParams()))
  return wrong
}

/** Everything wrong with an answer of a stand-in's own. */
export function wrongWithAnswer(api: Description, method: string, path: string, status: number, body: Json): string[] {
  const found = operationOf(api, method, path)
  if (!found) return []
  const described = found.operation.responses[String(status)] ?? found.operation.responses.default
  if (!described) return [`${method} ${path}: no answer ${status} is described`]
  const schema = Object.values(described.content ?? {})[0]?.schema
  return schema ? wrongWith(api, schema, body, `answer ${status}`) : []
}

function operationOf(api: Description, method: string, path: string) {
  for (const [template, operations] of Object.entries(api.paths)) {
    const names = [...template.matchAll(/\{([^}]+)\}/g)].map((match) => match[1] as string)
    const pattern = template.replace(/[.*+?^$()|[\]\\]/g, "\\$&").replace(/\{[^}]+\}/g, "([^/]+?)")
    const match = new RegExp(`^${pattern}$`).exec(path)
    const operation = operations[method.toLowerCase()]
    if (match && operation)
      return {
        operation,
        inPath: Object.fromEntries(names.map((name, i) => [name, decodeURIComponent(match[i + 1] ?? "")])),
      }
  }
  return null
}

function valuesOf(parameter: Parameter, asked: Asked, inPath: Record<string, string>): string[] {
  switch (parameter.in) {
    case "path":
      return inPath[parameter.name] === undefined ? [] : [inPath[parameter.name] as string]
    case "query":
      return asked.query.getAll(parameter.name)
    default: {
      const value = asked.headers[parameter.name.toLowerCase()]
      return value === undefined ? [] : [value]
    }
  }
}

function wrongWithForm(api: Description, schema: Schema, form: URLSearchParams): string[] {
  const properties = (schema.properties ?? {}) as Record<string, Schema>
  const wrong = ((schema.required ?? []) as string[])
    .filter((name) => !form.has(name))
    .map((name) => `form ${name}: missing`)
  for (const name of new Set(form.keys())) {
    const own = properties[name]
    if (own) wrong.push(...wrongWith(api, own, fromText(form.getAll(name), own, api, false), `form ${name}`))
  }
  return wrong
}

/** A value of a form or an address is text; the description says what it stands for. */
function fromText(values: string[], schema: Schema, api: Description, commas: boolean): Json {
  const resolved = deref(api, schema)
  const types = [resolved.type].flat()
  if (types.includes("array")) {
    const items = (resolved.items ?? {}) as Schema
    return (commas ? values.flatMap((each) => each.split(",")) : values).map((each) =>
      fromText([each], items, api, false),
    )
  }
  if (values.length > 1) return values
  const text = values[0] as string
  if (types.includes("integer") || types.includes("number"))
    return text.trim() === "" || Number.isNaN(Number(text)) ? text : Number(text)
  if (types.includes("boolean")) return text === "true" ? true : text === "false" ? false : text
  return text
}

function deref(api: Description, schema: Schema): Schema {
  const ref = schema.$ref
  if (typeof ref !== "string") return schema
  const name = ref.replace("#/components/schemas/", "")
  const found = api.components?.schemas?.[name]
  if (!found) throw new Error(`the description names a schema that it does not hold: ${ref}`)
  return deref(api, found)
}

/** Everything in a value that a schema does not allow, each with the place it stands at. */
export function wrongWith(api: Description, given: Schema, value: Json, where: string): string[] {
  const schema = deref(api, given)
  if (value === null && schema.nullable === true) return []
  const wrong: string[] = []
  const types = [schema.type].flat().filter((each): each is string => typeof each === "string")
  if (types.length > 0 && !types.some((type) => isOf(type, value)))
    return [`${where}: ${show(value)} is no ${types.join(" or ")}`]
  if (Array.isArray(schema.enum) && !schema.enum.includes(value))
    wrong.push(`${where}: ${show(value)} is none of ${schema.enum.join(", ")}`)
  if ("const" in schema && schema.const !== value) wrong.push(`${where}: ${show(value)} is not ${show(schema.const)}`)
  if (typeof value === "string") wrong.push(...wrongText(schema, value, where))
  if (typeof value === "number") wrong.push(...wrongNumber(schema, value, where))
  if (Array.isArray(value) && schema.items)
    for (const [i, each] of value.entries())
      wrong.push(...wrongWith(api, schema.items as Schema, each, `${where}[${i}]`))
  if (typeof value === "object" && value !== null && !Array.isArray(value))
    wrong.push(...wrongObject(api, schema, value as Record<string, Json>, where))
  const fits = (each: Json) => wrongWith(api, each as Schema, value, where).length === 0
  for (const each of (schema.allOf ?? []) as Json[]) wrong.push(...wrongWith(api, each as Schema, value, where))
  if (Array.isArray(schema.oneOf) && schema.oneOf.filter(fits).length !== 1)
    wrong.push(`${where}: ${show(value)} fits not just one of the forms described`)
  if (Array.isArray(schema.anyOf) && !schema.anyOf.some(fits))
    wrong.push(`${where}: ${show(value)} fits none of the forms described`)
  return wrong
}

function isOf(type: string, value: Json): boolean {
  switch (type) {
    case "null":
      return value === null
    case "array":
      return Array.isArray(value)
    case "object":
      return typeof value === "object" && value !== null && !Array.isArray(value)
    case "integer":
      return Number.isInteger(value)
    default:
      // The other names of JSON Schema are those of typeof.
      return typeof value === type
  }
}

function wrongText(schema: Schema, value: string, where: string): string[] {
  const wrong: string[] = []
  if (typeof schema.minLength === "number" && value.length < schema.minLength)
    wrong.push(`${where}: shorter than ${schema.minLength}`)
  if (typeof schema.maxLength === "number" && value.length > schema.maxLength)
    wrong.push(`${where}: longer than ${schema.maxLength}`)
  if (typeof schema.pattern === "string" && !new RegExp(schema.pattern).test(value))
    wrong.push(`${where}: ${show(value)} does not match ${schema.pattern}`)
  if (schema.format === "uri" && !URL.canParse(value) && !value.startsWith("/"))
    wrong.push(`${where}: ${show(value)} is no address`)
  if (schema.format === "date" && !/^\d{4}-\d{2}-\d{2}$/.test(value)) wrong.push(`${where}: ${show(value)} is no day`)
  if (
    schema.format === "date-time" &&
    !/^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2}))?$/.test(value)
  )
    wrong.push(`${where}: ${show(value)} is no date-time`)
  if (
    schema.format === "date-time-rfc-2822" &&
    !/^[A-Z][a-z]{2}, \d{2} [A-Z][a-z]{2} \d{4} \d{2}:\d{2}:\d{2} \+0000$/.test(value)
  )
    wrong.push(`${where}: ${show(value)} is no date of RFC 2822`)
  return wrong
}

function wrongNumber(schema: Schema, value: number, where: string): string[] {
  const wrong: string[] = []
  if (typeof schema.minimum === "number" && value < schema.minimum)
    wrong.push(`${where}: ${value} is below ${schema.minimum}`)
  if (typeof schema.maximum === "number" && value > schema.maximum)
    wrong.push(`${where}: ${value} is above ${schema.maximum}`)
  return wrong
}

function wrongObject(api: Description, schema: Schema, value: Record<string, Json>, where: string): string[] {
  const properties = (schema.properties ?? {}) as Record<string, Schema>
  const wrong = ((schema.required ?? []) as string[])
    .filter((name) => !(name in value))
    .map((name) => `${where}.${name}: missing`)
  for (const [name, each] of Object.entries(value)) {
    const own =
      properties[name] ??
      (typeof schema.additionalProperties === "object" ? (schema.additionalProperties as Schema) : undefined)
    if (own) wrong.push(...wrongWith(api, own, each, `${where}.${name}`))
  }
  return wrong
}

function show(value: Json): string {
  return (JSON.stringify(value) ?? String(value)).slice(0, 80)
}
