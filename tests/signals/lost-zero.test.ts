import { describe, expect, it } from 'vitest';
import { stores } from '../../server/signals/weight/stores.ts';
import { setFor } from '../../server/words/phrase.ts';

const metric = setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' });

describe('a scale that reads less than the empty box weighs', () => {
  it('has lost its zero: it tells of no stores, not of none left', () => {
    const { storesG, daysLeft } = stores({ nights: [], grossG: -900, tareG: 5000 });
    expect([storesG.ok, daysLeft.ok]).toEqual([false, false]);
    expect(storesG.ok ? '' : metric(storesG.why)).toBe(
      'the scale reads −900 g, less than the empty box weighs (5.00 kg): check its zero, and the weight entered',
    );
  });
  it('and of none left where all that it reads is box, bees and brood', () => {
    const { storesG } = stores({ nights: [], grossG: 5100, tareG: 5000 });
    expect(storesG).toMatchObject({ ok: true, value: 0 });
  });
});
