/** What is drawn into a chart, a line each, in the order of time. Pure. */
import type { ChartDto } from '../../server/contract/chart.ts';
import type { Group } from './lines.ts';

interface Said {
  readonly at: string;
  readonly sign: string;
  readonly words: string;
}

export function saidOf(chart: ChartDto, group: Group): readonly Said[] {
  const visits = chart.visits.map((v): Said => ({ at: v.at, sign: '●', words: v.text }));
  const notes = chart.notes.map((n): Said => ({ at: n.at, sign: '✎', words: n.text }));
  const alerts = chart.alerts.map((a): Said => ({ at: a.from, sign: 'alert', words: a.text }));
  const own =
    group === 'weight'
      ? [
          ...chart.steps.map((s): Said => ({ at: s.at, sign: '↕', words: s.text })),
          ...chart.nights.map((n): Said => ({
            at: n.to,
            sign: 'night',
            // The day stands before it.
            words: n.text.replace(/^Night to [^:]+: /, ''),
          })),
        ]
      : [
          ...chart.band.map((b): Said => ({ at: b.from, sign: 'band', words: b.text })),
          ...(chart.outlook ? [{ at: chart.outlook.at, sign: 'tonight', words: chart.outlook.text }] : []),
        ];
  return [...visits, ...notes, ...alerts, ...own].sort((a, b) => a.at.localeCompare(b.at));
}
