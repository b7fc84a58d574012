/**
 * Lets calls that come while others are under way share the next statement: under load many commits become one, and a
 * call that comes alone waits for nobody. `together` takes up to `most` asks whose keys differ and answers each in order;
 * where it throws, each ask is tried by itself, so that one that cannot be done fails alone. So many statements are under
 * way `atOnce` (one where nothing is said): the more, the smaller each, and the less one waits for the disk.
 */
export function gather<Ask, Answer>(
  together: (asks: readonly Ask[]) => Promise<readonly Answer[]>,
  options: { most: number; atOnce?: number; keyOf?: (ask: Ask) => string; sameKind?: (a: Ask, b: Ask) => boolean },
): (ask: Ask) => Promise<Answer> {
  type Waiting = { ask: Ask; tell: (answer: Answer) => void; fail: (error: unknown) => void }
  let waiting: Waiting[] = []
  let running = 0

  async function work(): Promise<void> {
    while (waiting.length > 0) {
      const batch = nextBatch()
      try {
        const answers = await together(batch.map((each) => each.ask))
        batch.forEach((each, i) => {
          each.tell(answers[i] as Answer)
        })
      } catch (error) {
        if (batch.length === 1) batch[0]?.fail(error)
        else await Promise.all(batch.map(alone))
      }
    }
    running -= 1
  }

  async function alone(each: Waiting): Promise<void> {
    try {
      each.tell((await together([each.ask]))[0] as Answer)
    } catch (error) {
      each.fail(error)
    }
  }

  function nextBatch(): Waiting[] {
    const keys = new Set<string>()
    const batch: Waiting[] = []
    const left: Waiting[] = []
    for (const each of waiting) {
      const key = options.keyOf?.(each.ask)
      const first = batch[0]
      const fits =
        batch.length < options.most &&
        !(key !== undefined && keys.has(key)) &&
        (first === undefined || options.sameKind === undefined || options.sameKind(first.ask, each.ask))
      if (!fits) left.push(each)
      else {
        batch.push(each)
        if (key !== undefined) keys.add(key)
      }
    }
    waiting = left
    return batch
  }

  return (ask) =>
    new Promise<Answer>((tell, fail) => {
      waiting.push({ ask, tell, fail })
      if (running >= (options.atOnce ?? 1)) return
      running += 1
      // What is asked for in the same breath goes together.
      queueMicrotask(() => void work())
    })
}
