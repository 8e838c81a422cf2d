/** Which invented nucs there are: eight at different days, and as many more as are asked for. */
import type { Case } from './rails.ts';
import { scatter } from './weather.ts';

export interface NamedCase extends Case {
  readonly id: string;
  readonly name: string;
  readonly siteId: string;
  readonly batch: string;
}

const course = (seed: number, more: { coolsFromDay?: number } = {}) => ({
  seed,
  startKg: 11.6 + scatter(seed) * 1.8,
  driftKg: 0.4 + scatter(seed + 3) * 0.3,
  driftDays: 3,
  ...more,
});

const first: readonly (Partial<Case> & { readonly day: number })[] = [
  { day: 9.3, chilling: true },
  { day: 10.4 },
  { day: 7.3 },
  { day: 2.6 },
  { day: 13.5 },
  { day: 18.6, overdue: true },
  { day: 5.2 },
  { day: 25.4 },
];

const names = ['Bramble', 'Hazel', 'Alder', 'Sorrel', 'Clover', 'Teasel', 'Yarrow', 'Mallow'];

export function casesFor(count: number, timeZone: string): readonly NamedCase[] {
  return Array.from({ length: count }, (_, i) => {
    const given = first[i] ?? { day: 1 + scatter(i) * 26 };
    return {
      id: `n${String(i + 1)}`,
      name: i < names.length ? `${names[i] ?? ''} ${String(i + 1)}` : `Nuc ${String(i + 1)}`,
      siteId: i % 8 < 5 ? 's1' : 's2',
      batch: i % 8 < 5 ? 'May, first delivery' : 'May, second delivery',
      timeZone,
      cutDay: 7.42,
      cagedFrom: i % 3 === 0 ? 3.5 : 7.43,
      openDay: 10.44,
      course: course(i + 1, given.chilling === true ? { coolsFromDay: given.day - 0.35 } : {}),
      ...given,
    };
  });
}
