/** Bees that left together while foragers fly home: one of the two is told, never the sum as foragers, nor a leaning box. */
import { expect, it } from 'vitest';
import { analyseNuc, newAnalysisCache } from '../../server/signals/analyse.ts';
import { gateEvidence } from '../../server/watch/gate-evidence.ts';
import { inWords } from '../../server/words/phrase.ts';
import { dayMs, simulatedCase } from './simulated.ts';

const hourMs = 3_600_000;
const display = { timeZone: 'UTC', temperature: 'C', weight: 'kg' } as const;

it.each([1, 4])('the loss of seed %d is told once', (seed) => {
  const { nuc, input } = simulatedCase({ seed, setting: 'usual', days: 5, scenario: 'clean' });
  const { weightG } = input.series;
  if (!weightG) throw new Error('no scale');
  const leftAtMs = nuc.splitMs + 2.2 * dayMs;
  // Half a kilogram within 25 minutes.
  const value = weightG.value.map(
    (g, i) => g - 500 * Math.min(1, Math.max(0, ((weightG.atMs[i] as number) - leftAtMs) / (hourMs / 2.4))),
  );
  const series = { ...input.series, weightG: { ...weightG, value } };
  const cache = newAnalysisCache();
  const at = (nowMs: number) =>
    analyseNuc({ ...input, series, events: input.events.filter((e) => e.atMs <= nowMs) }, nowMs, cache);
  expect(at(leftAtMs - 6 * hourMs).drift.massG.ok).toBe(true);
  for (const hours of [10, 24, 48]) {
    const signals = at(leftAtMs + hours * hourMs);
    expect(signals.massDepartures).toHaveLength(1);
    expect([signals.drift.massG.ok, signals.drift.bees.ok]).toEqual([false, false]);
    const { text } = gateEvidence(signals, null, null).foragersGone;
    expect(inWords(text, display)).toContain('bees left together on');
  }
});
