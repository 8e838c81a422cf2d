/** Case histories written by hand, with what a careful keeper would be told at each moment. */
import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../../server/introduction/calendar.ts';
import { mayCutCells, mayHangCage, mayLookForQueen, mayOpenCandy } from '../support/gates.ts';
import { noEvidence, type GateName } from '../../../server/introduction/acts/gate.ts';
import { planIntroduction } from '../../../server/introduction/plan/plan.ts';
import { foldIntroduction } from '../../../server/introduction/state.ts';
import { at, logOf, setupOf, zone } from '../support/field-log.ts';
import type { CaseHistory } from './case.ts';
import { offCourse } from './off-course.ts';
import { queensAndSigns } from './queens-and-signs.ts';
import { usualCourses } from './usual-courses.ts';

const gates: Record<GateName, typeof mayOpenCandy> = {
  'cut-cells': mayCutCells,
  'hang-cage': mayHangCage,
  'open-candy': mayOpenCandy,
  'look-for-queen': mayLookForQueen,
};
const dayOf = (ms: number): number => dayNumber(at(0), ms, zone);

function stateOf(history: CaseHistory, nowMs: number) {
  const entries = history.log.map(({ day, hour, fact }) => [at(day, hour), fact] as const);
  return foldIntroduction(setupOf(history.setup ?? {}), logOf(entries), nowMs);
}

const histories = [...usualCourses, ...offCourse, ...queensAndSigns];

it('are thirty or more', () => {
  expect(histories.length).toBeGreaterThanOrEqual(30);
});

describe.each(histories.map((history) => [history.name, history] as const))('%s', (_name, history) => {
  it('gets the expected answers', () => {
    const told = history.gates.map(({ day, hour, gate, says, untilDay }) => {
      const answer = gates[gate](stateOf(history, at(day, hour)), noEvidence, at(day, hour));
      return {
        day,
        hour,
        gate,
        answer: answer.answer,
        ...(says === undefined ? {} : { says: answer.headline.includes(says) ? says : answer.headline }),
        ...(untilDay === undefined
          ? {}
          : { untilDay: answer.untilMs === undefined ? null : dayOf(answer.untilMs) }),
      };
    });
    expect(told).toEqual(history.gates);
  });

  it('stands where it should, with what contradicts itself named', () => {
    const stages = history.stage ?? [];
    expect(
      stages.map(({ day, hour }) => ({ day, hour, stage: stateOf(history, at(day, hour)).stage })),
    ).toEqual(stages);
    if (history.contradictions) {
      const kinds = stateOf(history, at(30)).contradictions.map(({ kind }) => kind);
      expect(kinds).toEqual(history.contradictions);
    }
  });

  it('is planned on the right days', () => {
    if (!history.plan) return;
    const { day, hour } = history.plan;
    const open = planIntroduction(stateOf(history, at(day, hour))).filter((step) => !step.done);
    const wanted = Object.keys(history.plan.days);
    const days = open
      .filter((s) => wanted.length === 0 || wanted.includes(s.kind))
      .map((s) => [s.kind, dayOf(s.targetMs)]);
    expect(Object.fromEntries(days)).toEqual(history.plan.days);
  });
});
