/** The chart as a table, for those who can't see it or want the figures. */
import { useState } from 'preact/hooks';
import { dayAndTime } from '../format/when.ts';
import { fixed, shownUnit } from '../format/units.ts';
import { serverNow } from '../state/live.ts';
import { display } from '../state/session.ts';
import type { Line } from './lines.ts';
import { nearest, sideBySideMs } from './lines.ts';

/** More rows than this nobody reads; the export has them all. */
const mostRows = 120;

export function ChartTable({ lines, zone, title }: { lines: readonly Line[]; zone: string; title: string }) {
  const [open, setOpen] = useState(false);
  return (
    <details
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>{title} as a table</summary>
      {open && <Rows lines={lines} zone={zone} title={title} />}
    </details>
  );
}

function Rows({ lines, zone, title }: { lines: readonly Line[]; zone: string; title: string }) {
  const longest = [...lines].sort((a, b) => b.points.length - a.points.length)[0]?.points ?? [];
  const every = Math.max(1, Math.ceil(longest.length / mostRows));
  const instants = longest.filter((_, i) => i % every === 0).map((point) => point.x);
  const reach = sideBySideMs(instants);
  return (
    <div class="scroll-x tall" tabIndex={0} role="region" aria-label={`${title} as a table`}>
      <table>
        {every > 1 && <caption>One in {every} of the points shown</caption>}
        <thead>
          <tr>
            <th scope="col">time</th>
            {lines.map((line) => (
              <th key={line.place} scope="col">
                {line.label}, {shownUnit(line.unit, display.value)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {instants.map((at) => (
            <tr key={at}>
              <th scope="row">{dayAndTime(at, zone, serverNow.peek())}</th>
              {lines.map((line) => {
                const point = nearest(line.points, at, reach);
                return (
                  <td key={line.place}>
                    {point?.y === undefined || point.y === null ? 'gap' : fixed(point.y, 2)}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
