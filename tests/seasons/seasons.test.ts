/**
 * The seeded run of the seasons (`npm run seasons` is the whole one), and whether its judge would notice: a tool that
 * lets her out at once, one that never says anything, one that orders what its gates forbid.
 */
import { describe, expect, it } from 'vitest';
import type { PlanStep } from '../../server/introduction/acts/plan-step.ts';
import { sized } from '../support/size.ts';
import { obey, theTool, type Ask } from './obedient.ts';
import { scene } from './scene.ts';
import { startOf, tally } from './tally.ts';
import { trace } from './trace.ts';
import { verdictOn } from './verdict.ts';

const plenty = 600_000;
const numbers = Array.from({ length: 40 }, (_, n) => n);
const verdictsOf = (ask: Ask) =>
  numbers.map((n) => verdictOn(obey(scene(n, startOf('requeened-in-place', n)), ask)));

const silent: Ask = (...asked) => ({ ...theTool(...asked), plan: [] });

/** The steps of the tool, but hanging her and letting her out are due at once, whatever the gates say. */
const reckless: Ask = (...asked) => {
  const advice = theTool(...asked);
  const nowMs = asked[0].toMs(asked[2]);
  const caged = advice.state.queen.inCageSinceMs !== null;
  const due = (step: PlanStep): PlanStep => {
    const { blocked: _, ...rest } = step;
    const early = step.kind === 'hang-cage' || (step.kind === 'open-candy' && caged);
    return early && !step.done ? { ...rest, earliestMs: nowMs, targetMs: nowMs, latestMs: nowMs } : step;
  };
  return { ...advice, plan: advice.plan.map(due) };
};

describe('the obedient keeper', { timeout: plenty }, () => {
  it.each(['planned-split', 'requeened-in-place'] as const)(
    'meets fewer rivals than the calendar: %s',
    (startingPoint) => {
      const { obedient, calendar } = tally(startingPoint, sized(24, 1000), 7000);
      expect(obedient.opened).toBeGreaterThan(sized(12, 500));
      expect(obedient.rivalMet / obedient.opened).toBeLessThan(calendar.rivalMet / calendar.opened);
    },
  );

  it('plays the same history twice, and tells it as a diary', () => {
    const start = startOf('planned-split', 1);
    const told = trace(1, start);
    expect(trace(1, start)).toBe(told);
    expect(told).toContain('split-made');
    expect(told).toMatch(/\['day 7, \d+:\d\d', /);
  });
});

describe('its judge', { timeout: plenty }, () => {
  it('calls it a dead end where the tool has nothing to say', () => {
    expect(verdictsOf(silent).every(({ deadEnd }) => deadEnd)).toBe(true);
  });

  it('notices what is ordered against a gate, and rivals that a reckless tool lets her meet', () => {
    const verdicts = verdictsOf(reckless);
    expect(verdicts.filter(({ against }) => against > 0).length).toBeGreaterThan(25);
    const careful = verdictsOf(theTool).filter(({ rivalMet }) => rivalMet).length;
    const met = verdicts.filter(({ rivalMet }) => rivalMet).length;
    expect(met).toBeGreaterThan(numbers.length / 10);
    expect(met).toBeGreaterThan(3 * careful);
    expect(verdicts.some(({ couldBeKnown }) => couldBeKnown !== null)).toBe(true);
  });
});
