/** The sentence above each chart holds for readings that have stopped coming as well. */
import { describe, expect, it } from 'vitest';
import type { Store } from '../../server/store/store.ts';
import { nucChart } from '../../server/views/nuc/chart.ts';
import type { NucAnalysis } from '../../server/watch/nuc-analysis.ts';
import { setFor } from '../../server/words/phrase.ts';
import type { NucSignals } from '../../server/signals/types.ts';
import { noon, signals } from '../rules/made-up.ts';

const hourMs = 3_600_000;
const say = setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' });
const store = { places: { stretches: () => [] } } as unknown as Store;

function summaries(said: NucSignals, nowMs: number) {
  const site = { timeZone: 'UTC', latDeg: 52, lonDeg: 13 };
  const analysis = { nuc: { id: 'n1', name: 'Nuc 1' }, site, state: null, signals: said };
  const span = { fromMs: nowMs - 24 * hourMs, toMs: nowMs, pixels: 100, suspect: false };
  return nucChart(store, analysis as unknown as NucAnalysis, span, [], say, nowMs).summaries;
}

describe('the weight', () => {
  const toMs = noon - 6 * hourMs;
  const night = { date: '2026-05-06', fromMs: toMs - 5 * hourMs, toMs, levelG: 12_340, slopeGPerH: -3 };
  const said = signals({ nightWeights: [{ ...night, residualG: 5, readings: 30, coverage: 1 }] });
  it('is that of last night on the day after it, and of its night from then on', () => {
    expect(summaries(said, noon).weight).toMatch(/^Last night it weighed 12\.34 kg\. /);
    expect(summaries(said, noon + 72 * hourMs).weight).toMatch(
      /^In the night to Wed 6 May it weighed 12\.34 kg\. /,
    );
  });
});

describe('the brood', () => {
  it('is at what was read just now, and was at what was read hours ago', () => {
    expect(summaries(signals(), noon + hourMs).temperature).toMatch(/^The brood frame is at 34\.5 °C\./);
    expect(summaries(signals(), noon + 20 * hourMs).temperature).toMatch(
      /^The brood frame was at 34\.5 °C at the last reading, Wed 6 May 10:00\./,
    );
  });
  it('was not read lately where only what is older than two days is left', () => {
    const none = { ...signals().brood, latestC: null, latestAtMs: null };
    expect(summaries(signals({ brood: none }), noon).temperature).toMatch(
      /^No brood temperature has come in lately\./,
    );
  });
});
