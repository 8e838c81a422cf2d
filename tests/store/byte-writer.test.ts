import fc from 'fast-check';
import { expect, test } from 'vitest';
import { BitReader, BitWriter } from '../../server/store/readings/bits.ts';
import { ByteWriter } from '../../server/store/readings/byte-writer.ts';

test('whole bytes are those that the writer of bits writes, and are read as them', () => {
  const whole = fc.oneof(fc.nat(300), fc.integer({ min: 2 ** 31 - 2, max: 2 ** 31 + 2 }), fc.maxSafeNat());
  fc.assert(
    fc.property(fc.array(whole, { maxLength: 2000 }), fc.nat(255), (numbers, first) => {
      const bytes = new ByteWriter();
      const bits = new BitWriter();
      bytes.writeByte(first);
      bits.write(first, 8);
      for (const number of numbers) {
        bytes.writeVarint(number);
        bits.writeVarint(number);
      }
      const written = bytes.finish();
      expect(Buffer.compare(written, bits.finish())).toBe(0);
      const from = new BitReader(written);
      expect(from.read(8)).toBe(first);
      expect(numbers.map(() => from.readVarint())).toEqual(numbers);
    }),
  );
});
