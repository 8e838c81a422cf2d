/** What the answer of the server has to be drawn into each chart, in the reader's units. Pure. */
import type { ChartDto } from '../../server/contract/chart.ts';
import type { Display } from '../format/units.ts';
import { toShown } from '../format/units.ts';
import type { Evidence, Mark } from './evidence-parts.ts';
import type { Group, XY } from './lines.ts';
import { linesOf } from './lines.ts';

const ms = (iso: string): number => Date.parse(iso);

const nothing: Evidence = { bands: [], nights: [], drift: [], outlook: undefined, spans: [], marks: [] };

/** The weight at the curve's start is the middle of the first hours: the box may be open at the very moment. */
const anchorMs = 6 * 3_600_000;

function middleWeight(points: readonly XY[], fromMs: number): number | undefined {
  const values = points
    .flatMap(({ x, y }) => (y !== null && x >= fromMs && x <= fromMs + anchorMs ? [y] : []))
    .sort((a, b) => a - b);
  return values[Math.floor(values.length / 2)];
}

/** The curve tells mass that is gone; drawn is the weight that this alone would have left, from its first shown point. */
function driftLine(chart: ChartDto, display: Display): Evidence['drift'] {
  const first = chart.driftCurve[0];
  const line = linesOf(chart, 'weight', display)[0];
  if (!first || !line) return [];
  const start = middleWeight(line.points, ms(first.at));
  if (start === undefined) return [];
  const shown = (kg: number): number => toShown(kg, 'kg', display);
  const full = start + shown(first.kg);
  return chart.driftCurve.map((point) => ({
    at: ms(point.at),
    mid: full - shown(point.kg),
    low: full - shown(point.highKg),
    high: full - shown(point.lowKg),
  }));
}

export function evidenceFor(chart: ChartDto, group: Group, display: Display, nowMs: number): Evidence {
  const kg = (value: number): number => toShown(value, 'kg', display);
  const celsius = (value: number): number => toShown(value, 'Cel', display);
  const isWeight = group === 'weight';
  if (group === 'outside') return nothing;
  return {
    bands: isWeight
      ? []
      : chart.band.map((b) => ({
          from: ms(b.from),
          to: ms(b.to),
          low: celsius(b.lowC),
          high: celsius(b.highC),
        })),
    nights: isWeight
      ? chart.nights.map((night) => ({
          from: ms(night.from),
          to: ms(night.to),
          level: kg(night.levelKg),
          // Grams an hour to the shown unit a millisecond; a difference, so pounds need no offset.
          slopePerMs: kg(night.slopeGPerH / 1000) / 3_600_000,
        }))
      : [],
    drift: isWeight ? driftLine(chart, display) : [],
    outlook:
      isWeight || !chart.outlook
        ? undefined
        : {
            at: ms(chart.outlook.at),
            mid: celsius(chart.outlook.minC),
            low: celsius(chart.outlook.lowC),
            high: celsius(chart.outlook.highC),
          },
    spans: chart.alerts.map((alert) => ({
      from: ms(alert.from),
      to: alert.to === null ? nowMs : ms(alert.to),
      urgency: alert.urgency,
    })),
    marks: marksOf(chart, isWeight),
  };
}

function marksOf(chart: ChartDto, withWeight: boolean): readonly Mark[] {
  const marks: Mark[] = [
    ...chart.visits.map((visit): Mark => ({ at: ms(visit.at), kind: 'visit' })),
    ...chart.notes.map((note): Mark => ({ at: ms(note.at), kind: 'note' })),
  ];
  if (withWeight) {
    marks.push(...chart.steps.map((step): Mark => ({ at: ms(step.at), kind: 'step' })));
    for (const day of chart.departures) {
      if (day.departure !== null) marks.push({ at: ms(day.departure), kind: 'departure' });
      if (day.return !== null) marks.push({ at: ms(day.return), kind: 'return' });
    }
  }
  return marks.sort((a, b) => a.at - b.at);
}
