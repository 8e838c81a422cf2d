/** What is drawn into a chart, in words: nights, steps, drift, band, outlook, visits. */
import type { ChartDto } from '../../server/contract/chart.ts';
import { dayAndTime } from '../format/when.ts';
import { serverNow } from '../state/live.ts';
import type { Group } from './lines.ts';
import { saidOf } from './evidence-said.ts';

export function EvidenceWords({ chart, group }: { chart: ChartDto; group: Group }) {
  const said = saidOf(chart, group);
  return (
    <details>
      <summary>What is drawn in</summary>
      <p class="soft">
        {group === 'weight'
          ? 'Thick strokes: the weight at night. Dashed with a shade: the weight of the foragers that left. Signs: ↕ a step, ● a visit, ✎ a note, ▾ first bees leave, ▴ last bees home. A bar at the top: an alert.'
          : 'The shade: what is expected at that stage. A bracket: the lowest expected tonight. ● a visit, ✎ a note. A bar at the top: an alert.'}
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
