/**
 * A home-made scale that restarts often takes the weight that stands on it for nothing: the libraries of the usual
 * load-cell amplifiers set to zero in their examples (from memory). The probe in the nest says that the box is there.
 */
import { describe, expect, it } from 'vitest';
import { explanations } from '../../server/rules/catalogue/explanations.ts';
import { analyseNuc } from '../../server/signals/analyse.ts';
import { gateEvidence } from '../../server/watch/gate-evidence.ts';
import { dayMs, hourMs, made, midnight, outsideC, place, ripple } from '../signals/made.ts';
import { scaleLostZero } from '../../server/rules/catalogue/sensors/scale-lost-zero.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import { hour, noon, nucInput, nucSubject, signals } from './made-up.ts';

const lostMs = midnight + dayMs + 12 * hourMs;
const sinceLostH = (h: number): number => h - 36;

/** Two days of a nuc of 11.4 kg whose scale reads nothing from noon of the second on; `broodC` by hours since then. */
function kindsBy(nowMs: number, broodC: (h: number) => number, broodUntilMs = nowMs): string[] {
  const weightG = made(midnight, nowMs, (h) => (sinceLostH(h) > 0 ? 0 : 11_400 - 3 * h) + ripple(h, 8));
  const { steps } = analyseNuc(
    {
      series: {
        weightG,
        broodC: made(midnight, broodUntilMs, (h) => broodC(sinceLostH(h)) + ripple(h, 0.1)),
        outsideC: made(midnight, nowMs, (h) => outsideC(h % 24)),
      },
      place,
      events: [],
      broodRegime: () => 'open-brood',
    },
    nowMs,
  );
  return steps.map(({ kind }) => kind);
}
const warm = (): number => 34.6;
const pulledOut = (h: number): number => (h < 0 ? 34.6 : 20 + 14.6 * Math.exp(-20 * h));

describe('a scale that reads nothing from one reading to the next', () => {
  it('lost its zero where the nest stays warm, and where it chills hours later', () => {
    expect(kindsBy(lostMs + 2 * hourMs, warm)).toEqual(['zeroed']);
    expect(kindsBy(lostMs + 9 * hourMs, (h) => (h < 6 ? 34.6 : 30))).toEqual(['zeroed']);
  });
  it('lost its box where the probe cools as one in the air, or falls silent', () => {
    expect(kindsBy(lostMs + 2 * hourMs, pulledOut)).toEqual(['gone']);
    expect(kindsBy(lostMs + 3 * hourMs, warm, lostMs + hourMs)).toEqual(['gone']);
  });
  it('lost its box where the nest was warm at first and lies in the open: it cools by degrees an hour', () => {
    const blownOff = (h: number): number => (h < 0 ? 34.6 : 16 + 18.6 * Math.exp(-0.3 * h));
    expect(kindsBy(lostMs + 0.5 * hourMs, blownOff)).toEqual(['gone']);
    const slower = (h: number): number => (h < 0.4 ? 34.6 : 16 + 18.6 * Math.exp(-0.3 * (h - 0.4)));
    expect(kindsBy(lostMs + 2.5 * hourMs, slower)).toEqual(['gone']);
  });
  it('names both first where a probe reports from a warm nest: it may be stolen, with long-range radio', () => {
    const step = { atMs: noon - hour, sizeG: -11_400, sizeSdG: 20, kind: 'zeroed' as const };
    const told = scaleLostZero.evaluate(
      nucInput({ signals: signals({ steps: [step] }) }),
      limitsFor(scaleLostZero, nucSubject, noLimitSettings),
    );
    expect(scaleLostZero).toMatchObject({ urgency: 'now', title: 'Box gone, or scale lost its zero' });
    expect(JSON.stringify(told)).toContain('it may be stolen or blown off');
  });
  it('keeps nothing of the brood or the cage quiet while the box is there', () => {
    const quiet = explanations.filter(({ cause }) => cause === 'scale-lost-zero');
    expect(quiet).toEqual([]);
  });
});

it('a box that was knocked over bars the cage as one that is gone does, and one that is there does not', () => {
  const off = (kind: 'gone' | 'toppled' | 'zeroed') =>
    gateEvidence(signals({ steps: [{ atMs: noon - hour, sizeG: -7400, sizeSdG: 20, kind }] }), 0.05, null)
      .lookFirst?.headline;
  expect([off('gone'), off('toppled'), off('zeroed')]).toEqual([
    'The box is gone from its scale',
    'The box was knocked over',
    undefined,
  ]);
});
