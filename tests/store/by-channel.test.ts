import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ByChannel, type ChannelKey } from '../../server/store/by-channel.ts';

test('finds for each channel what was kept last, as a map of joined keys does', () => {
  const name = fc.constantFrom('', 'a', 'b', 'a\n', 'constructor');
  const key = fc.record<ChannelKey>({
    sensor: name,
    probe: name,
    quantity: fc.constantFrom('weight', 'battery'),
    unit: fc.constantFrom('kg', 'V', '%EL'),
  });
  fc.assert(
    fc.property(fc.array(fc.tuple(key, fc.nat()), { maxLength: 60 }), key, (entries, other) => {
      const kept = new ByChannel<number>();
      const expected = new Map<string, number>();
      const joined = ({ sensor, probe, quantity, unit }: ChannelKey): string =>
        JSON.stringify([sensor, probe, quantity, unit]);
      for (const [each, value] of entries) {
        kept.set(each, value);
        expected.set(joined(each), value);
      }
      for (const [each] of entries) expect(kept.get(each)).toBe(expected.get(joined(each)));
      expect(kept.get(other)).toBe(expected.get(joined(other)));
      expect(kept.size).toBe(expected.size);
      kept.clear();
      expect([kept.size, kept.get(other)]).toEqual([0, undefined]);
    }),
  );
});
