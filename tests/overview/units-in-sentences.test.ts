/** Sentences that the server sets have the farm's units in them, whatever the store keeps. */
import { expect, it } from 'vitest';
import { driftText, gateEvidence } from '../../server/overview/gate-evidence.ts';
import { chartEvidence } from '../../server/overview/views/chart-evidence.ts';
import { factWords } from '../../server/overview/views/fact-words.ts';
import { setFigure, type Figure } from '../../server/rules/phrase.ts';
import type { ForagerDrift, NucSignals } from '../../server/signals/types.ts';

const metric = (figure: Figure): string =>
  setFigure(figure, { timeZone: 'UTC', temperature: 'C', weight: 'kg' });
const imperial = (figure: Figure): string =>
  setFigure(figure, { timeZone: 'UTC', temperature: 'F', weight: 'lb' });

const estimate = (value: number, low: number, high: number) => ({
  ok: true as const,
  value,
  low,
  high,
  level: 0.9,
  restsOn: [],
});
const drift = {
  state: 'gone',
  why: '',
  massG: estimate(520, 450, 600),
  bees: { ok: false, why: 'not asked' },
  flightHours: 21,
  curve: [],
} as unknown as ForagerDrift;
const signals = {
  nowMs: 0,
  nightWeights: [
    { fromMs: 0, toMs: 10, date: '2027-05-02', levelG: 12_345, slopeGPerH: -3.2, readings: 30 },
    { fromMs: 0, toMs: 10, date: '2027-05-03', levelG: 12_345, slopeGPerH: 4, readings: 30 },
  ],
  steps: [{ atMs: 5, sizeG: -700, kind: 'taken' }],
  daily: [],
  drift,
  outlook: { tonightMinC: estimate(30, 29, 31), limitC: 32, chanceBelow: null },
  population: { bees: { ok: false, why: 'not asked' } },
  massDepartures: [],
  robbing: { underWay: false },
} as unknown as NucSignals;

it('on the chart', () => {
  const span = { fromMs: 0, toMs: 100, dawnMs: 50 };
  const told = (say: (figure: Figure) => string): string[] => {
    const { nights, steps, outlook } = chartEvidence(signals, span, say);
    return [...nights, ...steps, ...(outlook ? [outlook] : [])].map(({ text }) => text);
  };
  expect(told(metric)).toEqual([
    'Night to 2027-05-02: 12.35 kg before dawn, −3 g an hour (30 readings)',
    'Night to 2027-05-03: 12.35 kg before dawn, +4 g an hour (30 readings)',
    '−700 g: something was taken out',
    'Lowest brood temperature expected in the night ahead: 30.0 °C (29.0 °C to 31.0 °C)',
  ]);
  expect(told(imperial)).toEqual([
    'Night to 2027-05-02: 27.22 lb before dawn, −0.1 oz an hour (30 readings)',
    'Night to 2027-05-03: 27.22 lb before dawn, +0.1 oz an hour (30 readings)',
    '−1.54 lb: something was taken out',
    'Lowest brood temperature expected in the night ahead: 86.0 °F (84.2 °F to 87.8 °F)',
  ]);
});

it('about the foragers, at the gates, and in the log', () => {
  expect(driftText(drift, metric)).toContain('520 g (450 g to 600 g)');
  expect(driftText(drift, imperial)).toContain('1.15 lb (15.9 oz to 1.32 lb)');
  const { foragersGone, outlook } = gateEvidence(signals, 0.05, imperial);
  expect(`${foragersGone.text} ${outlook?.text ?? ''}`).not.toMatch(/°C|\d k?g\b/);
  expect(outlook?.text).toMatch(/86\.0 °F .*limit 89\.6 °F/);
  const fed = { kind: 'fed', feed: 'syrup', kilograms: 1.5 } as const;
  expect([factWords(fed, undefined, metric), factWords(fed, undefined, imperial)]).toEqual([
    'Fed syrup, 1.50 kg',
    'Fed syrup, 3.31 lb',
  ]);
});
