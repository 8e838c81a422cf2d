import type { ParsedQueryOf, ResponseOf } from '../../../server/contract/index.ts';
import type { Farm } from './farm.ts';
import { scatter } from './weather.ts';

export function batchReview(farm: Farm, query: ParsedQueryOf<'reviewBatch'>): ResponseOf<'reviewBatch'> {
  const batches = [...new Set(farm.cases.map((one) => one.batch))];
  const batch = query.batch ?? batches[0];
  const those = farm.cases.filter((one) => one.batch === batch).slice(0, 40);
  const days = Array.from({ length: 22 }, (_, i) => i - (query.alignedOn === 'release' ? 10 : 0));
  const base = query.quantity === 'night-weight' ? 12 : query.quantity === 'brood-spread' ? 1 : 34.5;
  const value = (seed: number, day: number): number =>
    base - day * 0.01 + (scatter(seed * 31 + day) - 0.5) * 0.8;
  return {
    batches,
    unit: query.quantity === 'night-weight' ? 'kg' : '°C',
    days,
    band: days.map((day) =>
      those.length < 3
        ? null
        : { low: base - 0.4 - day * 0.01, middle: base - day * 0.01, high: base + 0.4 - day * 0.01 },
    ),
    nucs: those.map((one, i) => ({
      id: one.id,
      name: one.name,
      values: days.map((day) =>
        day > one.day || day === 4 ? null : value(i + 1, day) - (i === 1 && day > 12 ? 1.6 : 0),
      ),
      outsideSinceDay: i === 1 ? 13 : null,
      text: i === 1 ? 'Below the band since day 13.' : 'Within the band.',
    })),
    summary:
      those.length === 0
        ? 'No nuc is in this batch.'
        : `${String(those.length)} nucs; one lies below the band since day 13.`,
  };
}

export const outcomes = (by: string): ResponseOf<'outcomes'> => ({
  items: [
    {
      group: by === 'source' ? 'Line M' : 'first',
      accepted: 21,
      lost: 3,
      open: 5,
      share: 0.875,
      low: 0.69,
      high: 0.957,
    },
    {
      group: by === 'source' ? 'Island line' : 'second',
      accepted: 2,
      lost: 1,
      open: 3,
      share: 0.667,
      low: 0.208,
      high: 0.939,
    },
  ],
  text: 'Too few in the second group to say whether they differ.',
  comparison: {
    p: 0.36,
    text: 'A difference of this size turns up by chance in about one of three such seasons.',
  },
});

export const replayed = (nowMs: number): ResponseOf<'replay'> => ({
  items: [
    {
      ruleId: 'brood-chilling',
      subject: { kind: 'nuc', id: 'nuc-1', name: 'Nuc 1' },
      title: 'Brood chilling',
      raisedAt: new Date(nowMs - 9 * 3_600_000).toISOString(),
      clearedAt: new Date(nowMs - 6 * 3_600_000).toISOString(),
      reallyRaised: false,
      text: 'Keep it warm: brood at 32.6 °C.',
    },
    {
      ruleId: 'sensor-silent',
      subject: { kind: 'device', id: 'box-1', name: 'box-1 at Nuc 1' },
      title: 'Sensor silent',
      raisedAt: new Date(nowMs - 5 * 3_600_000).toISOString(),
      clearedAt: null,
      reallyRaised: true,
      text: 'today',
    },
  ],
  onlyReally: [],
  ticks: 1440,
});
