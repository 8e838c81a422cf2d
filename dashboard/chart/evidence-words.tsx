/** What is drawn into a chart, in words: nights, steps, drift, band, outlook, visits. */
import type { ChartDto } from '../../server/contract/chart.ts';
import { dayAndTime } from '../format/when.ts';
import { serverNow } from '../state/live.ts';
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

export function EvidenceWords({ chart, group }: { chart: ChartDto; group: Group }) {
  const said = saidOf(chart, group);
  return (
    <details>
      <summary>What is drawn in</summary>
      <p class="soft">
        {group === 'weight'
          ? 'Thick strokes: the weight at night. Dashed with a shade: the weight of the foragers that left. Signs: ↕ a step, ● a visit, ▾ first bees leave, ▴ last bees home. A bar at the top: an alert.'
          : 'The shade: what is expected at that stage. A bracket: the lowest expected tonight. ● a visit. A bar at the top: an alert.'}
      </p>
      <ul class="said">
        {said.map((one) => (
          <li key={`${one.at}${one.sign}${one.words}`}>
            <span class="soft">
              {dayAndTime(Date.parse(one.at), chart.timeZone, serverNow.peek())} {one.sign}
            </span>{' '}
            {one.words}
          </li>
        ))}
      </ul>
    </details>
  );
}
