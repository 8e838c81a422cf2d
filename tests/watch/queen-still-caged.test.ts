/** The probe at the cage is read as long as the rules hold the queen to be in it: also behind candy that the bees left. */
import { expect, it } from 'vitest';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { cageTooCold } from '../../server/rules/catalogue/temperature/cage-too-cold.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import { signalsOf, type NucAnalysis } from '../../server/watch/nuc-analysis.ts';
import type { NucContext } from '../../server/watch/nuc-context.ts';
import { stageFacts } from '../../server/watch/stage-facts.ts';
import { at, facts, stateAt, zone } from '../introduction/support/field-log.ts';
import { nucInput, nucSubject } from '../rules/made-up.ts';
import { dayMs, made, ripple } from '../signals/made.ts';

type Entry = readonly [number, FactPayload];

const hung: readonly Entry[] = [
  [at(0), facts.split()],
  [at(7), facts.arrived()],
  [at(7, 11), facts.hung()],
];
const opened: Entry = [at(8), facts.opened()];
const context = {
  nuc: { box: {} },
  site: { latDeg: 50, lonDeg: 10, timeZone: zone },
  visits: [],
} as unknown as NucContext;

function toldAtTen(nowMs: number, ...log: readonly Entry[]): string {
  const state = stateAt([...hung, ...log], nowMs);
  const signals = signalsOf(
    context,
    state,
    { cageC: made(nowMs - dayMs, nowMs, (h) => 10 + ripple(h, 0.1)) },
    nowMs,
  );
  const introduction = stageFacts({ state, signals, gates: [] } as unknown as NucAnalysis);
  const input = nucInput({ introduction, signals, nowMs });
  return cageTooCold.evaluate(input, limitsFor(cageTooCold, nucSubject, noLimitSettings)).verdict;
}

it('tells of cold at a cage that hangs, and of none once she was let out or is dead', () => {
  expect(toldAtTen(at(8))).toBe('yes');
  expect(toldAtTen(at(9), opened)).toBe('not-applicable');
  expect(toldAtTen(at(9), [at(8, 12), { kind: 'queen-dead' } as FactPayload])).toBe('not-applicable');
});

it('tells of it again where a look finds her still in the cage after the candy was opened', () => {
  const stillIn: Entry = [at(12), facts.looked({ queenSeen: false, eggsSeen: false, cageEmpty: false })];
  expect(toldAtTen(at(12, 15), opened, stillIn)).toBe('yes');
});
