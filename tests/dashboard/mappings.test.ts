/** What the Sensors page makes of a message, against the schema and the pointers that ingest itself uses. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atPointer } from '../../ingest/decode/json-pointer.ts';
import { readMapping } from '../../ingest/decode/mapping-schema.ts';
import { leavesOf, numberIn } from '../../dashboard/sensors/leaves.ts';
import { draftFrom, guess, toMapping, topicFilter } from '../../dashboard/sensors/mapping-draft.ts';

describe('the values in a message', () => {
  it('are found by pointers that lead back to them', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
        const payload = JSON.stringify(value);
        for (const leaf of leavesOf(payload) ?? []) {
          expect(atPointer(JSON.parse(payload), leaf.pointer)).toEqual({ ok: true, value: leaf.value });
        }
      }),
    );
  });
  it('are none where the message is not JSON', () => {
    expect(leavesOf('12,4 kg')).toBeUndefined();
    expect(leavesOf('12.4')).toEqual([{ pointer: '', value: 12.4 }]);
  });
  it('count as numbers also when a device quotes them', () => {
    expect(numberIn({ pointer: '', value: '33.8' })).toBe(33.8);
    expect(numberIn({ pointer: '', value: '' })).toBeUndefined();
    expect(numberIn({ pointer: '', value: true })).toBeUndefined();
  });
});

describe('a first guess', () => {
  it.each([
    ['/data/temp_c', 'temperature', 'Cel'],
    ['/temperature_f', 'temperature', '°F'],
    ['/weight', 'weight', 'kg'],
    ['/weight_g', 'weight', 'g'],
    ['/batt_mv', 'battery', 'mV'],
    ['/battery', 'battery', '%EL'],
    ['/battery_level', 'battery', '%EL'],
    ['/battery_voltage', 'battery', 'V'],
    ['/humidity', 'humidity', '%RH'],
  ])('%s is %s in %s', (pointer, quantity, unit) => {
    expect(guess(pointer)).toEqual({ quantity, unit });
  });
  it('takes a battery of 3 to 4 that names no unit for volts, and thousands for millivolts', () => {
    const unitOf = (value: number): string | undefined =>
      draftFrom('shed/node-9', leavesOf(`{"battery":${String(value)}}`)).values[0]?.unit;
    expect(draftFrom('n', leavesOf('{"battery_pct":3.7}')).values[0]?.unit).toBe('%EL');
    expect([3.71, 3710, 86, 86.5, 4].map(unitOf)).toEqual(['V', 'mV', '%EL', '%EL', '%EL']);
  });
  it('is none for what is not a reading', () => {
    expect(guess('/seq')).toBeUndefined();
  });
});

describe('a mapping made on the page', () => {
  const payload = '{"data":{"temp_c":33.8,"temp_out":12.1,"weight":11.87,"batt_mv":3580},"seq":118}';
  const draft = draftFrom('shed/node-9/state', leavesOf(payload));
  it('opens the level that names the sensor', () => {
    expect(topicFilter(draft)).toBe('shed/+sensor/state');
  });
  it('is one that ingest accepts', () => {
    const read = readMapping(toMapping(draft));
    expect(read).toMatchObject({ ok: true });
  });
  it('tells two probes of one quantity apart', () => {
    expect(
      draft.values.filter((value) => value.quantity === 'temperature').map((value) => value.probe),
    ).toEqual(['temp_c', 'temp_out']);
  });
  it('is accepted for a plain number, and with a name of its own', () => {
    const plain = draftFrom('shed/weight', leavesOf('11.87'));
    expect(readMapping(toMapping(plain))).toMatchObject({ ok: true });
    const named = { ...plain, sensorLevel: -1, sensorText: 'scale 9' };
    expect(readMapping(toMapping(named))).toMatchObject({ ok: true });
  });
});
