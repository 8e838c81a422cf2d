/** A nuc's charts: the lines with the evidence that was read from them, and a sentence for each. */
import { endOfNight } from '../../forecast/next-dawn.ts';
import type { ChartDto } from '../../contract/chart.ts';
import { iso } from '../../farm/wire.ts';
import { expectedBand } from '../../signals/brood/brood-temperature.ts';
import type { Store } from '../../store/store.ts';
import { startOfDay, startOfDayAfter } from '../../introduction/calendar.ts';
import { driftText } from '../../watch/gate-evidence.ts';
import { broodRegimeOf, type NucAnalysis } from '../../watch/nuc-analysis.ts';
import { chartEvidence } from './chart-evidence.ts';
import { chartSeries, type ChartSpan } from './chart-series.ts';
import { factWords } from './fact-words.ts';
import type { RailAlert } from './rail.ts';
import type { NightWeight, NucSignals } from '../../signals/types.ts';
import { clock, dayOf, degC, grams, kelvin, type Say } from '../../words/phrase.ts';
import { dayMs, hourMs } from '../../durations.ts';

const noEvidence = { nights: [], steps: [], departures: [], driftCurve: [], outlook: null };

export function nucChart(
  store: Store,
  analysis: NucAnalysis,
  span: ChartSpan,
  alerts: readonly RailAlert[],
  say: Say,
  nowMs: number,
): ChartDto {
  const { nuc, site, state, signals } = analysis;
  const { fromMs, toMs } = span;
  const shown = (atMs: number): boolean => atMs >= fromMs && atMs <= toMs;
  const facts = (state?.facts ?? []).filter(({ atMs }) => shown(atMs));
  const dawnMs = endOfNight(site, nowMs);
  return {
    from: iso(fromMs),
    to: iso(toMs),
    timeZone: site.timeZone,
    series: chartSeries(store, nuc, span),
    ...(signals ? chartEvidence(signals, { fromMs, toMs, dawnMs }, say) : noEvidence),
    band: bands(analysis, span),
    visits: facts
      .filter(({ fact }) => fact.kind !== 'note')
      .map(({ atMs, fact }) => ({ at: iso(atMs), text: factWords(fact, state?.setup.method, say) })),
    notes: facts.flatMap(({ atMs, note }) => (note === undefined ? [] : [{ at: iso(atMs), text: note }])),
    alerts: alerts
      .filter((alert) => alert.fromMs <= toMs && (alert.toMs ?? nowMs) >= fromMs)
      .map((alert) => ({
        from: iso(alert.fromMs),
        to: alert.toMs === null ? null : iso(alert.toMs),
        urgency: alert.urgency,
        text: alert.text,
      })),
    summaries: summaries(analysis, say, nowMs),
  };
}

const bandWords = {
  'open-brood': 'expected with open brood',
  'sealed-brood': 'expected with sealed brood',
  broodless: 'expected without brood',
  'new-brood-expected': 'expected with the new queen’s brood',
  unknown: 'not known what to expect',
} as const;

/** One band a calendar day until the introduction is over, runs of the same band joined. */
function bands({ state, site }: NucAnalysis, { fromMs, toMs }: ChartSpan): ChartDto['band'] {
  const found: { from: number; to: number; lowC: number; highC: number; text: string }[] = [];
  if (!state || state.day0Ms === null) return [];
  for (
    let at = Math.max(startOfDay(fromMs, site.timeZone), startOfDay(state.day0Ms, site.timeZone));
    at < Math.min(toMs, state.outcome?.atMs ?? Infinity);
  ) {
    const next = startOfDayAfter(at, 1, site.timeZone);
    const regime = broodRegimeOf(state, at + dayMs / 2);
    const band = expectedBand(regime);
    const last = found.at(-1);
    if (band) {
      if (last?.to === at && last.text === bandWords[regime]) last.to = next;
      else found.push({ from: at, to: next, lowC: band.low, highC: band.high, text: bandWords[regime] });
    }
    at = next;
  }
  return found.map(({ from, to, ...rest }) => ({
    from: iso(Math.max(from, fromMs)),
    to: iso(Math.min(to, toMs)),
    ...rest,
  }));
}

/** Setting: what was read longer ago is no longer told as what is. */
const latelyMs = 2 * hourMs;

function summaries({ signals, nuc }: NucAnalysis, say: Say, nowMs: number): ChartDto['summaries'] {
  if (!signals)
    return {
      weight: `No sensor is assigned to ${nuc.name}.`,
      temperature: `No sensor is assigned to ${nuc.name}.`,
    };
  const { brood, drift, nightWeights } = signals;
  const day = brood.levelC.ok
    ? ` Over the last day it lay at ${say(degC(brood.levelC.value))}${brood.spreadC.ok ? `, within ${say(kelvin(brood.spreadC.value))}` : ''}.`
    : '';
  return {
    weight: `${nightInWords(nightWeights.at(-1), say, nowMs)} ${say(driftText(drift))}`,
    temperature: `${broodInWords(brood, say, nowMs)}${day}`,
  };
}

function nightInWords(night: NightWeight | undefined, say: Say, nowMs: number): string {
  if (!night) return 'No night could be weighed yet.';
  const when = nowMs - night.toMs < dayMs ? 'Last night' : `In the night to ${say(dayOf(night.toMs))}`;
  return `${when} it weighed ${say(grams(night.levelG))}.`;
}

function broodInWords({ latestC, latestAtMs }: NucSignals['brood'], say: Say, nowMs: number): string {
  if (latestC === null || latestAtMs === null) return 'No brood temperature has come in lately.';
  return nowMs - latestAtMs < latelyMs
    ? `The brood frame is at ${say(degC(latestC))}.`
    : `The brood frame was at ${say(degC(latestC))} at the last reading, ${say(clock(latestAtMs))}.`;
}
