/** What the answer of the server has to be drawn into each chart, in the reader's units. Pure. */
import type { ChartDto } from '../../server/http/contract/nucs.ts';
import type { Display } from '../format/units.ts';
import { toShown } from '../format/units.ts';
import type { Evidence, Mark } from './evidence-parts.ts';
import type { Group } from './lines.ts';

const ms = (iso: string): number => Date.parse(iso);

const nothing: Evidence = { bands: [], nights: [], drift: [], outlook: undefined, spans: [], marks: [] };

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
    drift: isWeight
      ? chart.driftCurve.map((p) => ({ at: ms(p.at), mid: kg(p.kg), low: kg(p.lowKg), high: kg(p.highKg) }))
      : [],
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
    ...chart.visits.map((visit): Mark => ({ at: ms(visit.at), kind: 'visit', words: visit.text })),
    ...chart.notes.map((note): Mark => ({ at: ms(note.at), kind: 'note', words: note.text })),
  ];
  if (withWeight) {
    marks.push(...chart.steps.map((step): Mark => ({ at: ms(step.at), kind: 'step', words: step.text })));
    for (const day of chart.departures) {
      if (day.departure !== null)
        marks.push({ at: ms(day.departure), kind: 'departure', words: 'first bees leave' });
      if (day.return !== null)
        marks.push({ at: ms(day.return), kind: 'return', words: 'last bees are home' });
    }
  }
  return marks.sort((a, b) => a.at - b.at);
}
