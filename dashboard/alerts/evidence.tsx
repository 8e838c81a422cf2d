/** The small drawing under an alert: what was measured, and the limit it crossed. */
import { useState } from 'preact/hooks';
import type { AlertDto } from '../../server/contract/alerts.ts';
import { reading, toShown } from '../format/units.ts';
import { dayAndTime } from '../format/when.ts';
import { evenScale, pathOf } from '../rail/frame.ts';
import { display } from '../state/session.ts';
import { serverMinute } from '../state/live.ts';
import { placeWords } from '../words/labels.ts';

type Given = NonNullable<AlertDto['evidence']>;
const width = 300;
const height = 74;

interface EvidenceProps {
  readonly evidence: Given;
  readonly zone: string;
  /** The drawing alone; its words are for who can't see it. */
  readonly bare?: boolean;
}

export function Evidence({ evidence, zone, bare = false }: EvidenceProps) {
  const { points, limit, unit, place } = evidence;
  const first = points[0];
  const last = points.at(-1);
  if (!first || !last || points.length < 2) return null;
  const values = [...points.map(([, value]) => value), ...(limit === undefined ? [] : [limit])];
  const low = Math.min(...values);
  const high = Math.max(...values, low + 0.1);
  const x = evenScale(first[0], last[0], 4, width - 8);
  const y = evenScale(low, high, height - 8, 8);
  const show = (value: number): string => reading(value, unit, display.value);
  const now = serverMinute.value;
  const words = `${placeWords[place]}: ${show(first[1])} ${dayAndTime(first[0], zone, now)}, ${show(last[1])} ${dayAndTime(last[0], zone, now)}${limit === undefined ? '' : `; limit ${show(limit)}`}.`;
  return (
    <figure class="evidence">
      <svg class="rail" viewBox={`0 0 ${String(width)} ${String(height)}`} role="img" aria-label={words}>
        {limit !== undefined && <path class="limit" d={`M0 ${String(y(limit))}H${String(width)}`} />}
        <path class="trace" d={pathOf(points.map(([at, value]) => ({ x: x(at), y: y(value) })))} />
        <circle class="trace-dot" cx={x(last[0])} cy={y(last[1])} r="3.5" />
      </svg>
      {!bare && <figcaption>{words}</figcaption>}
      {!bare && <TheTable evidence={evidence} zone={zone} now={now} show={show} />}
    </figure>
  );
}

interface TableProps {
  readonly evidence: Given;
  readonly zone: string;
  readonly now: number;
  readonly show: (value: number) => string;
}

/** Its rows are made when it is opened: most never are, and Today would wait for all of them. */
function TheTable({ evidence, zone, now, show }: TableProps) {
  const [open, setOpen] = useState(false);
  const { points, unit, place } = evidence;
  return (
    <details
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>As a table</summary>
      {open && (
        <div class="scroll-x" tabIndex={0} role="region" aria-label="Evidence as a table">
          <table>
            <thead>
              <tr>
                <th scope="col">time</th>
                <th scope="col">{placeWords[place]}</th>
              </tr>
            </thead>
            <tbody>
              {points.map(([at, value]) => (
                <tr key={at}>
                  <td>{dayAndTime(at, zone, now)}</td>
                  <td>{Number.isFinite(toShown(value, unit, display.value)) ? show(value) : ''}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </details>
  );
}
