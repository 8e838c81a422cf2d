import { describe, expect, it } from 'vitest';
import { lazy, withLater } from '../server/lazily.ts';

describe('what is worked out only where somebody asks', () => {
  it('is worked out once by lazy, and not before', () => {
    let times = 0;
    const value = lazy(() => (times += 1));
    expect(times).toBe(0);
    expect([value(), value(), times]).toEqual([1, 1, 1]);
  });
  it('is a property as any other: read by name, spread and written down, each object its own', () => {
    let asked = 0;
    const of = (n: number) =>
      withLater({ n }, { twice: () => ((asked += 1), 2 * n), none: (): string | undefined => undefined });
    const [one, two] = [of(1), of(2)];
    expect(asked).toBe(0);
    expect([one.n, one.twice, two.n, two.twice]).toEqual([1, 2, 2, 4]);
    expect({ ...one }).toEqual({ n: 1, twice: 2, none: undefined });
    expect(JSON.parse(JSON.stringify(two))).toEqual({ n: 2, twice: 4 });
    expect(one).not.toEqual(two);
  });
});
