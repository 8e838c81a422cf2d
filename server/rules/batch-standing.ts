/**
 * How one nuc stands against its batch: each figure against the band of the others at the same day since
 * the batch began, so that the weather is the same for all and the stage as well.
 */
import { quantileSorted } from 'simple-statistics';
import type { BroodDay, NucSignals } from '../signals/types.ts';
import type { BatchMeasure, NucInput } from './inputs.ts';

export interface BatchMember {
  readonly nucId: string;
  readonly signals: NucSignals | null;
}

type Batch = NonNullable<NucInput['batch']>;

interface Measure {
  readonly name: string;
  readonly unit: BatchMeasure['unit'];
  readonly of: (day: BroodDay) => number;
  /** A band narrower than this on either side of its middle is widened: probes differ. */
  readonly leastHalfWidth: number;
}

const measures: readonly Measure[] = [
  { name: 'Brood temperature, middle of the day', unit: '°C', of: (day) => day.medianC, leastHalfWidth: 0.7 },
  { name: 'Spread of the brood temperature', unit: 'K', of: (day) => day.spreadC, leastHalfWidth: 1 },
];
/** Band of the others: from the 10th to the 90th in a hundred. */
const band = [0.1, 0.9] as const;
const leastCoverage = 0.5;
/** Others that have to have a figure for a day before it makes a band. */
const leastOthers = 4;
/** Days that are looked back over. */
const lookBack = 14;

/** Local dates on which most members have a full day, oldest first. */
function datesOf(members: readonly BatchMember[]): string[] {
  const dates = new Set(members.flatMap(({ signals }) => fullDays(signals).map(({ date }) => date)));
  return [...dates].sort().slice(-lookBack);
}

const fullDays = (signals: NucSignals | null): readonly BroodDay[] =>
  signals?.broodDays.filter(({ coverage }) => coverage >= leastCoverage) ?? [];

/** Standing of every member; nothing is said about a figure that too few of the others have. */
export function batchStandings(name: string, members: readonly BatchMember[]): ReadonlyMap<string, Batch> {
  const dates = datesOf(members);
  const found = members.map(({ nucId, signals }) => {
    const own = new Map(fullDays(signals).map((day) => [day.date, day]));
    const others = members.filter((member) => member.nucId !== nucId);
    const compared = measures.flatMap((measure) => compare(measure, own, others, dates) ?? []);
    return [nucId, { name, nucs: members.length, measures: compared }] as const;
  });
  return new Map(found);
}

function compare(
  { name, unit, of, leastHalfWidth }: Measure,
  own: ReadonlyMap<string, BroodDay>,
  others: readonly BatchMember[],
  dates: readonly string[],
): BatchMeasure | null {
  let daysOutside = 0;
  let newest: Omit<BatchMeasure, 'daysOutside'> | null = null;
  for (const date of dates) {
    const day = own.get(date);
    const values = others.flatMap(({ signals }) =>
      fullDays(signals)
        .filter((one) => one.date === date)
        .map(of),
    );
    if (!day || values.length < leastOthers) continue;
    const { low, high } = bandOf(values, leastHalfWidth);
    const value = of(day);
    daysOutside = value < low || value > high ? daysOutside + 1 : 0;
    newest = { name, unit, value, low, high };
  }
  return newest && { ...newest, daysOutside };
}

function bandOf(values: readonly number[], leastHalfWidth: number): { low: number; high: number } {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = quantileSorted(sorted, 0.5);
  return {
    low: Math.min(quantileSorted(sorted, band[0]), middle - leastHalfWidth),
    high: Math.max(quantileSorted(sorted, band[1]), middle + leastHalfWidth),
  };
}
