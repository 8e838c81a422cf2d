/** The numbers of channels in an alert: each server has its own. */

/** In texts of an alert a channel's number stands after this. */
const inText = /(?<=\/channel\/)\d+(?=\/|$)/;

/** The value with every channel's number as `number` has it. */
export function renumbered(value: unknown, number: (id: number) => number): unknown {
  if (typeof value === 'string') return value.replace(inText, (id) => String(number(Number(id))));
  if (Array.isArray(value)) return value.map((one) => renumbered(one, number));
  if (typeof value !== 'object' || value === null) return value;
  const isChannel = 'kind' in value && value.kind === 'channel';
  return Object.fromEntries(
    Object.entries(value).map(([key, one]) => {
      if (key === 'channelId' && typeof one === 'number') return [key, number(one)];
      if (key === 'id' && isChannel && typeof one === 'string') return [key, String(number(Number(one)))];
      return [key, renumbered(one, number)];
    }),
  );
}

export function numbersIn(value: unknown): number[] {
  const found = new Set<number>();
  renumbered(value, (id) => {
    found.add(id);
    return id;
  });
  return [...found];
}
