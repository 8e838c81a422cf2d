/** Works that are done when they are first asked for. */
import { describe, expect, it } from 'vitest';
import { once, whenAsked } from '../../server/signals/when-asked.ts';

describe('a work done when asked for', () => {
  it('is done once, whatever it finds', () => {
    for (const result of [7, null, undefined]) {
      let times = 0;
      const work = once(() => {
        times += 1;
        return result;
      });
      expect(times).toBe(0);
      expect([work(), work()]).toEqual([result, result]);
      expect(times).toBe(1);
    }
  });

  it('is tried again after it has failed', () => {
    let tries = 0;
    const work = once(() => {
      tries += 1;
      if (tries === 1) throw new Error('not yet');
      return tries;
    });
    expect(work).toThrow('not yet');
    expect([work(), work()]).toEqual([2, 2]);
  });

  it('is that of the property that is read, and of all in a copy, which is plain', () => {
    const done: string[] = [];
    const signals = whenAsked<{ a: number; b: string }>({
      a: () => done.push('a'),
      b: () => {
        done.push('b');
        return 'read';
      },
    });
    expect(signals.b).toBe('read');
    expect(done).toEqual(['b']);
    const copy = { ...signals };
    expect(copy).toEqual({ a: 2, b: 'read' });
    expect(Object.getOwnPropertyDescriptor(copy, 'a')?.get).toBeUndefined();
    expect(done).toEqual(['b', 'a']);
  });
});
