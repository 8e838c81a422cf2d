/** Weight steps of 200 g and more are found, sized, and not made up. */
import { readDay } from '../../server/signals/day.ts';
import { daysBetween } from '../../server/signals/days.ts';
import type { WeightStep } from '../../server/signals/types.ts';
import { quantiles } from '../../server/signals/statistics/robust.ts';
import { dayMs, simulatedCase } from '../signals/simulated.ts';
import { shareLevel, type Level } from './level.ts';

const minuteMs = 60_000;
const days = 20;
const leastG = 200;

export interface StepTally {
  readonly truths: number;
  readonly found: number;
  readonly errorsG: readonly number[];
  readonly made: number;
  readonly days: number;
}

const covers = (step: WeightStep, fromMs: number, toMs: number, slackMin: number): boolean =>
  (step.untilMs ?? step.atMs) > fromMs - slackMin * minuteMs && step.atMs < toMs + slackMin * minuteMs;

export function stepTally(seed: number, setting: 'usual' | 'unseen'): StepTally {
  const { nuc, input } = simulatedCase({ seed, setting, days, scenario: 'handled' });
  const steps = daysBetween(nuc.place.timeZone, nuc.splitMs, nuc.splitMs + days * dayMs).flatMap(
    (day) => readDay(day, input).steps,
  );
  const endMs = nuc.splitMs + (days - 0.3) * dayMs;
  const truths = nuc.truth.events.filter(
    (e) => (e.kind === 'added' || e.kind === 'taken') && Math.abs(e.sizeG ?? 0) >= leastG && e.atMs < endMs,
  );
  const errorsG = truths.flatMap((truth) => {
    const near = steps.filter(
      (s) => covers(s, truth.atMs, truth.atMs, 45) && s.sizeG * (truth.sizeG ?? 0) > 0,
    );
    return near.length === 0 ? [] : [Math.min(...near.map((s) => Math.abs(s.sizeG - (truth.sizeG ?? 0))))];
  });
  const kinds = ['split', 'opened', 'added', 'taken', 'lifted', 'toppled', 'stolen', 'absconded'];
  const causes = nuc.truth.events.filter((e) => kinds.includes(e.kind));
  const made = steps.filter((s) => !causes.some((e) => covers(s, e.atMs, e.untilMs ?? e.atMs, 60)));
  return { truths: truths.length, found: errorsG.length, errorsG, made: made.length, days };
}

export function stepLevels(seeds: readonly number[], setting: 'usual' | 'unseen'): Level[] {
  const tallies = seeds.map((seed) => stepTally(seed, setting));
  const sum = (of: (tally: StepTally) => number): number =>
    tallies.reduce((total, tally) => total + of(tally), 0);
  const errors = tallies.flatMap((tally) => tally.errorsG);
  const within = errors.filter((g) => g <= 30).length;
  const [p95] = quantiles(errors, 0.95) as [number];
  const months = sum((t) => t.days) / 30;
  const made = sum((t) => t.made);
  return [
    shareLevel(
      'steps of 200 g and more found',
      sum((t) => t.found),
      sum((t) => t.truths),
      { atLeast: 99 },
    ),
    shareLevel(`their size within 30 g (95 % within ${p95.toFixed(0)} g)`, within, errors.length, {
      atLeast: 95,
    }),
    {
      what: 'steps made up in 30 hive-days',
      goal: '≤ 1',
      achieved: made / months,
      low: Math.max(0, made - 1.96 * Math.sqrt(made)) / months,
      // Nothing seen: the rule of three.
      high: (made === 0 ? 3 : made + 1.96 * Math.sqrt(made)) / months,
      unit: '1',
      n: Math.round(months * 30),
      met: made / months <= 1,
    },
  ];
}
