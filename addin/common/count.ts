/** "1 job", "1,204 jobs". */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count.toLocaleString("en-US")} ${count === 1 ? one : many}`;

/** A list as far as it is shown, with the number of what is not. */
export function cutOff(items: readonly string[], most: number): string {
  const more = items.length - most;
  return more > 0 ? `${items.slice(0, most).join(", ")} and ${more.toLocaleString("en-US")} more` : items.join(", ");
}
