/** A map that keeps what was used last and forgets the rest: `most` things at once. */
export class RecentMap<Key, Value> extends Map<Key, Value> {
  readonly most: number

  constructor(most: number) {
    super()
    this.most = most
  }

  override get(key: Key): Value | undefined {
    const found = super.get(key)
    if (found === undefined) return undefined
    super.delete(key)
    super.set(key, found)
    return found
  }

  override set(key: Key, value: Value): this {
    super.delete(key)
    super.set(key, value)
    if (this.size > this.most) super.delete(super.keys().next().value as Key)
    return this
  }
}
