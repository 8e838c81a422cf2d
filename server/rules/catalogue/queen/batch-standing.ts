/** How each nuc stands against the others of its batch at the same day of its introduction. */
import { alignCohort, leastDistance, type Cohort } from '../../../signals/cohort.ts';
import { daysFrom } from '../../../signals/days.ts';
import type { BroodDay } from '../../../signals/types.ts';
import type { BatchMeasure, NucInput } from '../../engine/inputs.ts';

export interface BatchMember {
  readonly nucId: string;
  /** Local date of day 0: the split, or the release. */
  readonly dayZero: string;
  readonly broodDays: readonly BroodDay[];
  /** Local date from which on days are not over: half a day of one nuc says nothing beside the whole day of another. */
  readonly today: string;
}

type Batch = NonNullable<NucInput['batch']>;

interface Measure {
  readonly name: string;
  readonly unit: BatchMeasure['unit'];
  readonly of: (day: BroodDay) => number;
  readonly least: number;
}

const measures: readonly Measure[] = [
  {
    name: 'Brood temperature, middle of the day',
    unit: '°C',
    of: (day) => day.medianC,
    least: leastDistance.broodC,
  },
  {
    name: 'Spread of the brood temperature',
    unit: 'K',
    of: (day) => day.spreadC,
    least: leastDistance.broodSpreadK,
  },
];
/** Share of a day that readings have to cover before it counts. */
const leastCoverage = 0.5;

const fullDays = ({ broodDays, today }: BatchMember): readonly BroodDay[] =>
  broodDays.filter(({ coverage, date }) => coverage >= leastCoverage && date < today);

/** Standing of every member, by its nuc; nothing is said where too few nucs share a day. */
export function batchStandings(name: string, members: readonly BatchMember[]): ReadonlyMap<string, Batch> {
  const cohorts = measures.map((measure) => ({ measure, cohort: cohortOf(measure, members) }));
  return new Map(
    members.map((member) => [
      member.nucId,
      {
        name,
        nucs: members.length,
        measures: cohorts.flatMap(({ measure, cohort }) => standing(measure, cohort, member) ?? []),
      },
    ]),
  );
}

const cohortOf = ({ of, least }: Measure, members: readonly BatchMember[]): Cohort =>
  alignCohort(
    members.map((member) => ({
      id: member.nucId,
      dayZero: member.dayZero,
      values: fullDays(member).map((day) => ({ date: day.date, value: of(day) })),
    })),
    least,
  );

function standing(measure: Measure, cohort: Cohort, member: BatchMember): BatchMeasure | null {
  const newest = fullDays(member).at(-1);
  if (!newest) return null;
  const day = daysFrom(member.dayZero, newest.date);
  const band = cohort.band.find((one) => one.day === day);
  if (!band) return null;
  const { name, unit, of } = measure;
  const value = of(newest);
  const outsider = cohort.outsiders.find(({ id }) => id === member.nucId);
  return {
    name,
    unit,
    value,
    low: band.low,
    high: band.high,
    daysOutside: outsider ? day - outsider.sinceDay + 1 : 0,
  };
}
