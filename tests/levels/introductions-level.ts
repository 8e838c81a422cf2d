/** Whole introductions by other equations than the simulator's: what the rules say of those that go well, and of troubles. */
import type { RuleId } from '../../server/rules/catalogue/registry.ts';
import { shareLevel, type Level } from './level.ts';
import {
  secondIntroduction,
  visitMs,
  type Happening,
  type SecondIntroduction,
} from './second-introduction.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;

/** What any introduction brings with it; a nuc may truly be strong. */
const usual: ReadonlySet<string> = new Set<RuleId>([
  'visit-due',
  'foragers-gone',
  'foragers-leaving',
  'foragers-held-in',
  'too-strong-to-accept',
]);

type Raised = SecondIntroduction['raised'][number];
export const unexpected = (
  { raised }: Pick<SecondIntroduction, 'raised'>,
  also: readonly RuleId[] = [],
): readonly Raised[] =>
  raised.filter(({ ruleId }) => !usual.has(ruleId) && !also.some((id) => id === ruleId));

export interface Trouble {
  readonly name: string;
  /** Day after the move and hour by the clock at which it begins. */
  readonly from: readonly [day: number, hour: number];
  /** Put right at the visit of that day. */
  readonly untilDay?: number;
  /** What is shown, so many hours after it began. */
  readonly shows: (shown: Parameters<Happening>[0], hours: number) => ReturnType<Happening>;
  /** One of these within so many hours. */
  readonly told: readonly RuleId[];
  readonly withinH: number;
  /** What may follow from it. */
  readonly also: readonly RuleId[];
}

/** Bees gone or dead leave the nest to the air in hours; with `held` K above the outside. */
const cooling = (broodC: number, outsideC: number, hours: number, lagH: number, heldK: number): number =>
  outsideC + heldK + (broodC - outsideC - heldK) * Math.exp(-hours / lagH);

const cold: readonly RuleId[] = ['brood-chilling', 'chilling-ahead', 'chilling-tonight'];

/** Each as anyone would expect it to look on a scale and a probe (common practice). */
export const troubles: readonly Trouble[] = [
  {
    name: 'all bees leave within twenty minutes',
    from: [12, 14],
    shows: ({ weightG, broodC, outsideC, beesG }, hours) => ({
      weightG: weightG - 0.95 * beesG * Math.min(1, 3 * hours),
      broodC: cooling(broodC, outsideC, hours, 3, 2),
    }),
    told: ['left-in-a-mass'],
    withinH: 3,
    also: ['probe-or-nest', 'colony-failing', ...cold],
  },
  {
    name: 'robbers carry off 70 g an hour on four days',
    from: [3, 9],
    shows: ({ weightG }, hours) => ({
      weightG: weightG - 70 * (hours >= 96 ? 32 : Math.floor(hours / 24) * 8 + Math.min(8, hours % 24)),
    }),
    told: ['being-robbed'],
    withinH: 48,
    also: ['stores-low'],
  },
  {
    name: 'the probe slips out of the brood, and is put back when she is looked for',
    from: [5, 22],
    untilDay: 17,
    shows: ({ broodC, outsideC }) => ({ broodC: 0.25 * broodC + 0.75 * (outsideC + 2) }),
    told: ['probe-or-nest'],
    withinH: 12,
    also: [],
  },
  {
    name: 'the box falls off its scale',
    from: [12, 12],
    shows: ({ outsideC }) => ({ weightG: 300, broodC: outsideC + 2 }),
    told: ['box-gone', 'box-toppled'],
    withinH: 1,
    also: ['scale-lost-zero', 'sensor-stuck', 'colony-failing', 'probe-or-nest', 'stores-low'],
  },
  {
    name: 'the scale sends the same weight for ever',
    from: [6, 12],
    shows: () => ({ weightG: 12_345 }),
    told: ['sensor-stuck'],
    withinH: 36,
    also: ['disturbed-in-hands-off', 'left-in-a-mass'],
  },
  {
    name: 'the bees dwindle within days',
    from: [11, 12],
    shows: ({ broodC, outsideC }, hours) => ({ broodC: cooling(broodC, outsideC, hours, 48, 4) }),
    told: ['colony-failing', 'brood-chilling', 'probe-or-nest'],
    withinH: 72,
    also: cold,
  },
];

const beginMs = ({ from: [day, hour] }: Trouble, movedAtMs: number): number =>
  visitMs(movedAtMs, day) + (hour - 10) * hourMs;

const happeningOf =
  (trouble: Trouble): Happening =>
  (shown, movedAtMs) => {
    const hours = (shown.atMs - beginMs(trouble, movedAtMs)) / hourMs;
    const { untilDay } = trouble;
    const isOver = untilDay !== undefined && shown.atMs >= visitMs(movedAtMs, untilDay);
    return hours < 0 || isOver ? {} : trouble.shows(shown, hours);
  };

export interface TroubleVerdict {
  readonly told: boolean;
  /** Told of what was not there, before it and after. */
  readonly other: readonly Raised[];
}

export function troubleVerdict(trouble: Trouble, seed: number, stepMinutes?: number): TroubleVerdict | null {
  const options = stepMinutes === undefined ? {} : { stepMinutes };
  const one = secondIntroduction(seed, { ...options, happening: happeningOf(trouble) });
  if (!one) return null;
  const beganMs = beginMs(trouble, one.movedAtMs);
  const told = one.raised.some(
    ({ ruleId, atMs }) =>
      trouble.told.some((id) => id === ruleId) &&
      atMs >= beganMs &&
      atMs <= beganMs + trouble.withinH * hourMs,
  );
  const other = unexpected(one, [...trouble.told, ...trouble.also]).concat(
    one.raised.filter(({ ruleId, atMs }) => trouble.told.some((id) => id === ruleId) && atMs < beganMs),
  );
  return { told, other };
}

const everyMinutes =
  (minutes: number): Happening =>
  ({ atMs }) =>
    Math.round(atMs / minuteMs) % minutes === 0 ? {} : null;

const settings: readonly (readonly [name: string, Parameters<typeof secondIntroduction>[1]])[] = [
  ['ordinary weather', {}],
  ['cold spring', { weather: 'cold-spring' }],
  ['rain holds them in', { weather: 'rain-held' }],
  ['without an outside sensor', { without: ['outside'] }],
  ['without a scale', { without: ['scale'] }],
  ['a scale alone', { without: ['brood', 'outside', 'rain'] }],
  ['a reading in 30 minutes', { happening: everyMinutes(30) }],
];

/** One introduction in ten of the seeds asked for: each takes seconds. */
export function introductionLevels(seeds: readonly number[]): Level[] {
  const few = seeds.slice(0, Math.ceil(seeds.length / 10));
  const well = settings.map(([name, options]) => {
    const all = few.map((seed) => secondIntroduction(seed, options)).filter((one) => one !== null);
    const wrong = all.filter((one) => unexpected(one).length > 0);
    for (const one of wrong) console.log(`  ${name}:`, unexpected(one));
    return shareLevel(`${name}: introductions with an alert not to be expected`, wrong.length, all.length, {
      atMost: 0,
    });
  });
  const ill = troubles.flatMap((trouble) => {
    const all = few.map((seed) => troubleVerdict(trouble, seed)).filter((one) => one !== null);
    for (const { other } of all) if (other.length > 0) console.log(`  ${trouble.name}:`, other);
    return [
      shareLevel(
        `${trouble.name}: told within ${String(trouble.withinH)} h`,
        all.filter(({ told }) => told).length,
        all.length,
        { atLeast: 95 },
      ),
      shareLevel(
        `${trouble.name}: something else told as well`,
        all.filter(({ other }) => other.length > 0).length,
        all.length,
        { atMost: 0 },
      ),
    ];
  });
  return [...well, ...ill];
}
