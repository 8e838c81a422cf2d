/** A step of our own that fails at a message: the message is in quarantine and acknowledged, the next ones are read. */
import { afterEach, describe, expect, it, test, vi } from 'vitest';
import { groupCommit, defaultGroupLimits } from '../../ingest/group-commit.ts';
import { makeReception, type ReceptionOptions } from '../../ingest/reception.ts';
import { makeStatus } from '../../ingest/status.ts';
import type { Mapping } from '../../ingest/decode/mapping-schema.ts';
import { memoryPort } from './support/memory-port.ts';

const atMs = Date.parse('2026-05-14T06:00:00Z');
const fail = (): never => {
  throw new RangeError('Maximum call stack size exceeded');
};
const broken = {
  name: 'broken',
  topic: 'mapped/#',
  sensor: { text: 's' },
  get values() {
    return fail();
  },
} as unknown as Mapping;

function reception(options: Partial<ReceptionOptions>) {
  const port = memoryPort();
  const lines: string[] = [];
  const note = (_details: object, sentence: string): void => {
    lines.push(sentence);
  };
  const status = makeStatus('embedded', () => atMs, { info: note, warn: note, error: note });
  const group = groupCommit(port, defaultGroupLimits, {
    onCommitted: () => undefined,
    onUnavailable: fail,
    onAvailable: () => undefined,
  });
  const { receive } = makeReception({ clock: () => atMs, ...options }, group, status);
  const send = (topic: string, text: string) =>
    new Promise<boolean>((resolve) => {
      receive({ topic, payload: Buffer.from(text), retain: false }, resolve);
    });
  const quarantined = () => port.batches.flatMap((batch) => batch.quarantined);
  return { send, receive, group, quarantined, lines, port };
}

describe('a message at which our own code fails', () => {
  afterEach(() => {
    vi.restoreAllMocks();
  });

  const cases: readonly [string, string, Partial<ReceptionOptions>][] = [
    ['a mapping', 'mapped/s', { mappings: () => [broken] }],
    ['a forecast', 'welcomb/$forecast', { onForecast: fail }],
    [
      'the look at its quality',
      'welcomb/s/weight',
      {
        calibrated: () => [
          { channel: { sensor: 's', quantity: 'weight', probe: '', unit: 'kg' }, lineAt: fail },
        ],
      },
    ],
  ];
  it.each(cases)(
    '%s: quarantine, an acknowledgement, and one line in the log',
    async (_what, topic, options) => {
      const { send, quarantined, lines, port } = reception(options);
      expect(await send(topic, '1')).toBe(true);
      expect(await send(topic, '1')).toBe(true);
      expect(quarantined().map(({ topic: of, reason }) => [of, reason])).toEqual(
        Array.from({ length: 2 }, () => [
          topic,
          'reading it failed (RangeError: Maximum call stack size exceeded); please report this message',
        ]),
      );
      expect(
        lines.filter((line) => line === 'A message could not be read: please report this line.'),
      ).toHaveLength(1);
      expect(await send('welcomb/other/weight', '12.5')).toBe(true);
      expect(port.batches.flatMap(({ readings }) => readings)).toMatchObject([
        { sensor: 'other', value: 12.5 },
      ]);
    },
  );

  it('bounds the reason, whatever the message says', async () => {
    const { send, quarantined } = reception({ onForecast: () => 'x'.repeat(100_000) });
    expect(await send('welcomb/$forecast', '1')).toBe(true);
    expect(quarantined()[0]?.reason).toHaveLength(501);
  });

  it('takes no name of a sensor or probe that is longer than 200 characters, or has control characters', async () => {
    const { send, quarantined, port } = reception({});
    const long = 's'.repeat(201);
    await send(`welcomb/${long}/weight`, '1');
    await send(`welcomb/s/weight/${long}`, '1');
    await send('welcomb/s\u0007/weight', '1');
    await send(`welcomb/${'s'.repeat(200)}/weight`, '1');
    expect(port.batches.flatMap(({ readings }) => readings)).toHaveLength(1);
    expect(quarantined().map(({ reason }) => reason)).toEqual([
      `the name "${'s'.repeat(60)}…" has more than 200 characters`,
      `the name "${'s'.repeat(60)}…" has more than 200 characters`,
      'the name "s\\u0007" has control characters',
    ]);
  });
});

test('what a broken connection brings again is stored, though the first copy was dropped unstored', async () => {
  const { receive, group, port } = reception({});
  port.failure = new Error('disk full');
  const owner = {};
  const frame = Buffer.from(
    JSON.stringify({
      deviceInfo: { devEui: '0101010101010101' },
      fCnt: 7,
      data: 'AQID',
      time: '2026-05-14T05:59:00Z',
      object: { brood_temperature: 34.5 },
    }),
  );
  const topic = 'application/1/device/0101010101010101/event/up';
  receive({ topic, payload: frame, retain: false, owner }, () => undefined);
  group.forget(owner);
  port.failure = undefined;
  const again = await new Promise<boolean>((resolve) => {
    receive({ topic, payload: frame, retain: false, owner: {} }, resolve);
  });
  expect(again).toBe(true);
  expect(port.batches.flatMap(({ readings }) => readings)).toMatchObject([
    { sensor: '0101010101010101', probe: 'brood', value: 34.5 },
  ]);
});

test('the quarantine knows that the broker had kept a message', async () => {
  const { receive, quarantined } = reception({});
  const payload = Buffer.from('{"odd":1}');
  for (const retain of [true, false]) {
    await new Promise((resolve) => {
      receive({ topic: 'shed/s1/state', payload, retain }, resolve);
    });
  }
  expect(quarantined().map(({ retained = false }) => retained)).toEqual([true, false]);
});

describe('a battery that names no unit', () => {
  const units = async (payloads: readonly string[]): Promise<readonly string[]> => {
    const { send, port } = reception({});
    for (const payload of payloads) await send('welcomb/s/battery', payload);
    return port.batches.flatMap(({ readings }) =>
      readings.map(({ value, unit }) => `${String(value)} ${unit}`),
    );
  };
  it.each([
    {
      name: 'a whole number after volts is volts',
      sent: ['4.02', '4', '3.98'],
      is: ['4.02 V', '4 V', '3.98 V'],
    },
    { name: 'alone it is per cent', sent: ['4'], is: ['4 %EL'] },
    { name: 'after per cent it is per cent', sent: ['5', '4', '3'], is: ['5 %EL', '4 %EL', '3 %EL'] },
    {
      name: 'of a sensor that tells both it is per cent',
      sent: ['80', '{"value": 3.7, "unit": "V"}', '4'],
      is: ['80 %EL', '3.7 V', '4 %EL'],
    },
  ])('$name', async ({ sent, is }) => {
    expect(await units(sent)).toEqual(is);
  });
});

test('a large message that is not understood waits with its beginning alone', async () => {
  const { send, quarantined } = reception({});
  await send('welcomb/s', '{'.repeat(200_000));
  const [{ payload, payloadBytes } = { payload: new Uint8Array(), payloadBytes: 0 }] = quarantined();
  expect([payload.length, payload.buffer.byteLength, payloadBytes]).toEqual([4096, 4096, 200_000]);
});
