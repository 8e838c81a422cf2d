/** A batch on its own band: the usual run of it as a shade, each nuc a named line, those outside it in ink. */
import type { BatchReview } from '../../server/contract/review.ts';
import { fixed, shownUnit } from '../format/units.ts';
import type { Point } from '../rail/frame.ts';
import { evenScale, pathOf } from '../rail/frame.ts';
import { fitted } from '../rail/labels.ts';
import { useWidth } from '../rail/use-width.ts';
import { display } from '../state/session.ts';
import { bandRuns, levelsOf, lineRuns, shownValue } from './values.ts';

const height = 300;
const left = 52;
const bottom = 30;
/** Names stand behind the ends of the lines. */
const nameRoom = 76;
const lineHeight = 15;

export interface Drawn {
  readonly review: BatchReview;
  readonly spread: boolean;
}

export function BatchDrawing({ review, spread }: Drawn) {
  const { ref, width } = useWidth<HTMLDivElement>();
  return (
    <div ref={ref} class="batch-drawing">
      {width > 0 && <Drawing review={review} spread={spread} width={width} />}
    </div>
  );
}

function Drawing({ review, spread, width }: Drawn & { width: number }) {
  const { days, band, nucs } = review;
  const value = (v: number): number => shownValue(v, review, spread, display.value);
  const all = [
    ...nucs.flatMap((nuc) => nuc.values.flatMap((v) => (v === null ? [] : [value(v)]))),
    ...band.flatMap((b) => (b === null ? [] : [value(b.low), value(b.high)])),
  ];
  if (all.length === 0) return null;
  const low = all.reduce((a, b) => Math.min(a, b));
  const high = all.reduce((a, b) => Math.max(a, b));
  const x = evenScale(days[0] ?? 0, days.at(-1) ?? 1, left, width - nameRoom);
  const y = evenScale(low, Math.max(high, low + 0.1), height - bottom, 12);
  const at = (i: number, v: number): Point => ({ x: x(days[i] ?? 0), y: y(value(v)) });
  return (
    <svg class="rail" width={width} height={height} role="img" aria-label={review.summary}>
      {bandRuns(band).map((run) => (
        <path
          key={run[0]}
          class="expected"
          d={`${pathOf([...run.map((i) => at(i, band[i]?.high ?? 0)), ...[...run].reverse().map((i) => at(i, band[i]?.low ?? 0))])}Z`}
        />
      ))}
      {bandRuns(band).map((run) => (
        <path key={run[0]} class="middle" d={pathOf(run.map((i) => at(i, band[i]?.middle ?? 0)))} />
      ))}
      {nucs.map((nuc) => (
        <path
          key={nuc.id}
          class={nuc.outsideSinceDay === null ? 'of-batch' : 'of-batch outside'}
          d={lineRuns(nuc.values)
            .map((run) => pathOf(run.map(([i, v]) => at(i, v))))
            .join('')}
        />
      ))}
      <Axes review={review} x={x} y={y} low={low} high={high} />
      {lineNames(nucs, at).map(({ id, name, x: nameX, y: nameY, outside }) => (
        <text key={id} class={outside ? 'words strong' : 'words soft'} x={nameX + 6} y={nameY + 4}>
          {fitted(name, width - nameX - 6)}
        </text>
      ))}
    </svg>
  );
}

interface LineName extends Point {
  readonly id: string;
  readonly name: string;
  readonly outside: boolean;
}

/** Every line's name at its end, from above to below, none over another. */
function lineNames(nucs: BatchReview['nucs'], at: (i: number, v: number) => Point): readonly LineName[] {
  const ends = nucs.flatMap((nuc) => {
    const last = lineRuns(nuc.values).at(-1)?.at(-1);
    if (!last) return [];
    return [{ id: nuc.id, name: nuc.name, outside: nuc.outsideSinceDay !== null, ...at(last[0], last[1]) }];
  });
  const set: LineName[] = [];
  for (const one of ends.sort((a, b) => a.y - b.y)) {
    const above = set.filter(({ x }) => Math.abs(x - one.x) < nameRoom).at(-1);
    set.push({ ...one, y: Math.max(one.y, (above?.y ?? -Infinity) + lineHeight) });
  }
  return set;
}

interface AxesProps {
  readonly review: BatchReview;
  readonly x: (day: number) => number;
  readonly y: (value: number) => number;
  readonly low: number;
  readonly high: number;
}

function Axes({ review, x, y, low, high }: AxesProps) {
  const { days, unit } = review;
  const weeks = days.filter((day) => day % 7 === 0);
  return (
    <g aria-hidden="true">
      {weeks.map((day) => (
        <text key={day} class="words soft" x={x(day)} y={height - 8} text-anchor="middle">
          {day === 0 ? 'day 0' : fixed(day, 0)}
        </text>
      ))}
      {levelsOf(low, high).map(({ value, words }) => (
        <text key={value} class="words soft" x={left - 8} y={y(value) + 4} text-anchor="end">
          {words}
        </text>
      ))}
      <text class="words soft" x={0} y={height - 8}>
        {shownUnit(unit, display.value)}
      </text>
    </g>
  );
}
