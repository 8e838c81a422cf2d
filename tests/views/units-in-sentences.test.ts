/** Sentences that the server sets have the farm's units in them, whatever the store keeps. */
import { expect, it } from 'vitest';
import { driftText, gateEvidence } from '../../server/watch/gate-evidence.ts';
import { chartEvidence } from '../../server/views/nuc/chart-evidence.ts';
import { figureWords } from '../../server/views/nuc/figure-words.ts';
import { factWords } from '../../server/views/nuc/fact-words.ts';
import { evaluationsView } from '../../server/views/alerts/evaluations-view.ts';
import { signalNotes } from '../../server/views/nuc/signal-notes.ts';
import { evaluateAll } from '../../server/rules/engine/evaluate.ts';
import {
  degC,
  grams,
  inWords,
  kelvin,
  say,
  setFor,
  type Display,
  type Say,
} from '../../server/words/phrase.ts';
import type { ForagerDrift, NucSignals } from '../../server/signals/types.ts';
import { noon, nucInput, released, signals as madeUp } from '../rules/made-up.ts';

const metric = setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' });
const pounds: Display = { timeZone: 'UTC', temperature: 'F', weight: 'lb', dateOrder: 'month-day' };
const imperial = setFor(pounds);

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
    { fromMs: 0, toMs: Date.parse('2027-05-02T03:00Z'), levelG: 12_345, slopeGPerH: -3.2, readings: 30 },
    { fromMs: 0, toMs: Date.parse('2027-05-03T03:00Z'), levelG: 12_345, slopeGPerH: 4, readings: 30 },
  ],
  steps: [{ atMs: 5, sizeG: -700, kind: 'taken' }],
  daily: [],
  drift,
  outlook: { tonightMinC: estimate(30, 29, 31), limitC: 32, chanceBelow: null },
  massDepartures: [],
  robbing: { underWay: false },
} as unknown as NucSignals;

it('in the figure behind a reason', () => {
  const told = (set: Say): string[] => [
    figureWords(15, 'Cel', set),
    figureWords(140, 'g', set),
    figureWords(7, 'd', set),
    figureWords(0.09, '1', set),
    figureWords(4000, 'm', set),
    figureWords(10, 'm', set),
  ];
  expect(told(metric)).toEqual(['15.0 °C', '140 g', '7 d', 'about 1 in 11', '4.0 km', '10 m']);
  expect(told(imperial)).toEqual(['59.0 °F', '4.9 oz', '7 d', 'about 1 in 11', '4.0 km', '10 m']);
});

it('on the chart', () => {
  const span = { fromMs: 0, toMs: 100, dawnMs: 50 };
  const told = (set: Say): string[] => {
    const { nights, steps, outlook } = chartEvidence(signals, span, set);
    return [...nights, ...steps, ...(outlook ? [outlook] : [])].map(({ text }) => text);
  };
  expect(told(metric)).toEqual([
    'Night to Sun 2 May: 12.35 kg before dawn, −3 g an hour (30 readings)',
    'Night to Mon 3 May: 12.35 kg before dawn, +4 g an hour (30 readings)',
    '−700 g: something was taken out',
    'Lowest brood temperature expected in the night ahead: 30.0 °C (29.0 °C to 31.0 °C)',
  ]);
  expect(told(imperial)).toEqual([
    'Night to Sun May 2: 27.22 lb before dawn, −0.1 oz an hour (30 readings)',
    'Night to Mon May 3: 27.22 lb before dawn, +0.1 oz an hour (30 readings)',
    '−1.54 lb: something was taken out',
    'Lowest brood temperature expected in the night ahead: 86.0 °F (84.2 °F to 87.8 °F)',
  ]);
});

it('about the foragers, at the gates, and in the log', () => {
  expect(metric(driftText(drift))).toContain('520 g (450 g to 600 g)');
  expect(imperial(driftText(drift))).toContain('1.15 lb (15.9 oz to 1.32 lb)');
  const { foragersGone, outlook } = gateEvidence(signals, 0.05, null);
  expect(`${imperial(foragersGone.text)} ${imperial(outlook?.text ?? '')}`).not.toMatch(/°C|\d k?g\b/);
  expect(imperial(outlook?.text ?? '')).toMatch(/86\.0 °F .*needs 59\.0 °F/);
  // The same way in the log, at the gates and in the figure behind a reason.
  expect(factWords({ kind: 'moved', metres: 12_000 }, undefined, metric)).toBe('Moved 12.0 km');
  const fed = { kind: 'fed', feed: 'syrup', kilograms: 1.5 } as const;
  expect([factWords(fed, undefined, metric), factWords(fed, undefined, imperial)]).toEqual([
    'Fed syrup, 1.50 kg',
    'Fed syrup, 3.31 lb',
  ]);
});

/** As the signals word them, each with figures in it. */
const wordy = madeUp({
  drift: { ...madeUp().drift, why: say`the last night stands ${grams(40)} under the one before` },
  brood: {
    ...madeUp().brood,
    levelC: {
      ...estimate(34.5, 34, 35),
      restsOn: [say`the fall of ${kelvin(0.5)} an hour over the last 45 minutes`],
    },
  },
  regulation: {
    state: 'not-agreeing',
    why: say`1 of the last 4 days steady at ${degC(34)} to ${degC(35)}: no sign of new brood`,
    daysSinceRelease: 12,
    days: [],
    steadySince: null,
  },
  failing: { state: 'failing', since: '2026-05-04', why: say`now ${degC(-3)}, ${kelvin(2.5)} of spread` },
  outlook: {
    ...madeUp().outlook,
    tonightMinC: { ok: false, why: say`the outside did not change by ${kelvin(3)}` },
    minutesToLimit: { ok: false, why: say`it stands at ${degC(34)}` },
  },
  massDepartures: [
    { why: say`${grams(1200)} less within 10 minutes by daylight`, lossG: 1200, fromMs: noon, toMs: noon },
  ] as unknown as NucSignals['massDepartures'],
  robbing: { underWay: true, why: say`2 days with a loss of ${grams(100)} or more by daylight`, days: [] },
});
const metricFigure = /\d (°C|K|k?g)(?!\w)/;

it('where a signal says why, in the notes, at the gates, in what the rules tell and why they are quiet', () => {
  const inputs = [nucInput({ signals: wordy, introduction: released(12) })];
  const told = (set: Say): string[] => {
    const { foragersGone, outlook, trouble, robbing } = gateEvidence(wordy, 0.05, null);
    const notes = signalNotes(wordy, set).flatMap(({ text, restsOn }) => [text, ...restsOn]);
    return [...notes, ...[foragersGone.text, outlook?.text ?? '', trouble ?? '', robbing ?? ''].map(set)];
  };
  expect(told(metric).filter((words) => metricFigure.test(words)).length).toBeGreaterThan(6);
  expect(told(imperial).filter((words) => metricFigure.test(words))).toEqual([]);
  expect(told(imperial).join(' ')).toMatch(/steady at 93\.2 °F to 95\.0 °F/);
  // The fall of half a kelvin is one of 0.9 °F, and 100 g are 3.5 oz.
  expect(told(imperial).join(' ')).toMatch(/fall of 0\.9 °F an hour/);
  expect(told(imperial).join(' ')).toMatch(/a loss of 3\.5 oz or more/);

  const { evaluations } = evaluateAll(inputs, new Map(), noon);
  const alerts = evaluations.flatMap(({ evaluation: { message } }) =>
    message ? [message.seen, message.why, message.howSure].map((words) => inWords(words, pounds)) : [],
  );
  expect(alerts.join(' ')).toMatch(/now 26\.6 °F, 4\.5 °F of spread/);
  expect(alerts.filter((words) => metricFigure.test(words))).toEqual([]);
  const looks = evaluations.map((one) => ({ ...one, atMs: noon }));
  const why = evaluationsView(looks as unknown as Parameters<typeof evaluationsView>[0], pounds);
  expect(JSON.stringify(why)).toMatch(/stands at 93\.2 °F/);
  expect(why.filter((one) => metricFigure.test(JSON.stringify(one)))).toEqual([]);
});
