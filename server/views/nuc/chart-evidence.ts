/** What the signals read out of the readings, laid on the chart that they were read from. */
import type { ChartDto } from '../../contract/chart.ts';
import type { NucSignals, StepKind, WeightStep } from '../../signals/types.ts';
import { iso, isoOrNull } from '../../farm/wire.ts';
import { dayOf, degC, grams, gramsPerHour, within, type Say } from '../../words/phrase.ts';
import { rounded } from '../rounded.ts';

type Evidence = Pick<ChartDto, 'nights' | 'steps' | 'departures' | 'driftCurve' | 'outlook'>;

const kg = (grams: number): number => rounded(grams / 1000, 4);
const signed = (words: string): string => (words.startsWith('−') ? words : `+${words}`);

interface EvidenceSpan {
  readonly fromMs: number;
  readonly toMs: number;
  /** The end of the night that the outlook is for. */
  readonly dawnMs: number;
}

export function chartEvidence(
  signals: NucSignals,
  { fromMs, toMs, dawnMs }: EvidenceSpan,
  say: Say,
): Evidence {
  const shown = (atMs: number): boolean => atMs >= fromMs && atMs <= toMs;
  return {
    nights: signals.nightWeights
      .filter((night) => night.toMs >= fromMs && night.fromMs <= toMs)
      .map((night) => ({
        from: iso(night.fromMs),
        to: iso(night.toMs),
        levelKg: kg(night.levelG),
        slopeGPerH: rounded(night.slopeGPerH, 2),
        text: `Night to ${say(dayOf(night.toMs))}: ${say(grams(night.levelG))} before dawn, ${signed(say(gramsPerHour(night.slopeGPerH)))} (${String(night.readings)} readings)`,
      })),
    steps: signals.steps
      .filter((step) => shown(step.atMs))
      .map((step) => ({
        at: iso(step.atMs),
        sizeKg: kg(step.sizeG),
        kind: step.kind,
        text: stepText(step, say),
      })),
    departures: signals.daily
      .filter((day) => shown(day.departureAtMs ?? day.minimumAtMs ?? -1))
      .map((day) => ({
        departure: isoOrNull(day.departureAtMs),
        lowest: isoOrNull(day.minimumAtMs),
        return: isoOrNull(day.eveningAtMs),
        depthG: day.depthG === null ? null : Math.round(day.depthG),
      })),
    driftCurve: signals.drift.curve
      .filter((point) => shown(point.atMs))
      .map((point) => ({
        at: iso(point.atMs),
        kg: kg(point.massG),
        lowKg: kg(point.lowG),
        highKg: kg(point.highG),
      })),
    outlook: outlookOf(signals, dawnMs, say),
  };
}

const stepWords: Readonly<Record<StepKind, string>> = {
  opened: 'opened',
  loaded: 'something lay on it',
  added: 'something was put in',
  taken: 'something was taken out',
  fed: 'fed',
  lifted: 'lifted and set down again',
  gone: 'gone from the scale',
  toppled: 'toppled',
  zeroed: 'the scale lost its zero',
  unexplained: 'a step that nothing in the log explains',
};

function stepText(step: WeightStep, say: Say): string {
  const logged = step.explainedBy ? ', goes with a logged visit' : '';
  return `${signed(say(grams(step.sizeG)))}: ${stepWords[step.kind]}${logged}`;
}

function outlookOf({ outlook }: NucSignals, dawnMs: number, say: Say): Evidence['outlook'] {
  const { tonightMinC: night } = outlook;
  if (!night.ok) return null;
  const set = (celsius: number): string => say(within(degC(celsius), night));
  const text = `Lowest brood temperature expected in the night ahead: ${set(night.value)} (${set(night.low)} to ${set(night.high)})`;
  return {
    at: iso(dawnMs),
    minC: rounded(night.value, 2),
    lowC: rounded(night.low, 2),
    highC: rounded(night.high, 2),
    text,
  };
}
