/** What the rail draws ahead holds for a queen that lives and an introduction that goes on. */
import { expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { foldIntroduction } from '../../server/introduction/state.ts';
import { railOf } from '../../server/views/nuc/rail.ts';
import type { NucAnalysis } from '../../server/watch/nuc-analysis.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { at, facts, logOf, setupOf, zone } from '../introduction/support/field-log.ts';

type Entry = readonly [happenedAtMs: number, fact: FactPayload];

const course: readonly Entry[] = [
  [at(0), facts.split()],
  [at(7), facts.cut({ open: 1, sealed: 8 })],
  [at(7, 10.5), facts.hung()],
  [at(10), facts.cut()],
  [at(10, 10.5), facts.opened()],
];

function railOn(nowMs: number, more: readonly Entry[] = [], before = course) {
  const state = foldIntroduction(setupOf(), logOf([...before, ...more]), nowMs);
  const { plan } = answerFor(state);
  const nuc = { name: 'Nuc 1' };
  return railOf({ state, plan, site: { timeZone: zone }, nuc, signals: null } as NucAnalysis, [], [], nowMs);
}

const until = (rail: ReturnType<typeof railOn>, kind: string): number =>
  [...(rail?.bars ?? []), ...(rail?.windows ?? [])].find((one) => one.kind === kind)?.toDay ?? NaN;

it('draws hands off and what could still come on the usual course', () => {
  const rail = railOn(at(12));
  expect(until(rail, 'hands-off')).toBeGreaterThan(15);
  expect(until(rail, 'virgin-possible')).toBeGreaterThan(13);
  expect(until(rail, 'laying-workers')).toBe(28);
});

it('ends hands off with her death, and all of it with the introduction', () => {
  const dead = railOn(at(12), [[at(11), { kind: 'queen-dead' }]]);
  expect(until(dead, 'hands-off')).toBeLessThan(12);
  const closed = railOn(at(12), [[at(12, 8), { kind: 'outcome', outcome: 'queen-killed' }]]);
  expect(until(closed, 'hands-off')).toBeLessThan(13);
  expect(until(closed, 'virgin-possible')).toBeLessThan(13);
  expect(until(closed, 'laying-workers')).toBeNaN();
});

it('has her laying end with her death, and workers that may lay after it', () => {
  const eggs: Entry = [at(17), facts.looked()];
  expect(until(railOn(at(25), [eggs]), 'laying')).toBeGreaterThanOrEqual(25);
  expect(until(railOn(at(25), [eggs]), 'laying-workers')).toBeNaN();
  const dead = railOn(at(25), [eggs, [at(20), { kind: 'queen-dead' }]]);
  expect(until(dead, 'laying')).toBeLessThan(21);
  expect(until(railOn(at(42), [eggs, [at(20), { kind: 'queen-dead' }]]), 'laying-workers')).toBeGreaterThan(
    41,
  );
});

it('draws neither cage nor eggs nor what is expected of the brood after its end', () => {
  const accepted: Entry = [at(30), { kind: 'outcome', outcome: 'accepted' }];
  const laid = railOn(at(60), [[at(17), facts.looked()], accepted]);
  expect(until(laid, 'laying')).toBeGreaterThanOrEqual(30);
  expect(until(laid, 'laying')).toBeLessThan(31);
  expect(Math.max(...(laid?.band.map(({ toDay }) => toDay) ?? []))).toBe(31);
  const givenUp: Entry = [at(12), { kind: 'outcome', outcome: 'given-up' }];
  expect(until(railOn(at(40), [givenUp], course.slice(0, 4)), 'caged')).toBeLessThan(13);
});

it('ends after ninety days, with all that lies on it', () => {
  const rail = railOn(at(200), [], course.slice(0, 4));
  expect(rail?.lastDay).toBe(90);
  const ends = [
    ...(rail?.visits ?? []).map(({ day }) => day),
    ...(rail?.windows ?? []).map((one) => one.toDay),
  ];
  expect(Math.max(...ends)).toBeLessThanOrEqual(90);
});

it('never says of what is forbidden that it is overdue', () => {
  const sick: Entry[] = [
    [at(1), facts.arrived()],
    [at(1, 11), { kind: 'brood-disease', found: 'signs' }],
  ];
  const words = railOn(at(4), sick, course.slice(0, 1))?.inWords;
  expect(words).toContain('Next: hang the cage');
  expect(words).not.toContain('hang the cage, overdue');
});

it('tells apart what one visit settled: eggs seen where nobody logged that she was let out', () => {
  const hung = course.slice(0, 4);
  const visits = railOn(at(25), [[at(17), facts.looked()]], hung)?.visits ?? [];
  const ids = visits.map(({ id }) => id);
  expect(ids).toEqual([...new Set(ids)]);
});
