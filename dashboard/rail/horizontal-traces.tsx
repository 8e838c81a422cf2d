/** What the sensors measured, below the rail on the same days: weight at night, brood temperature against its band. */
import { display } from '../state/session.ts';
import type { Rail } from '../../server/contract/nucs.ts';
import { temperature } from '../format/units.ts';
import type { Point } from './frame.ts';
import { evenScale, pathOf } from './frame.ts';
import { runs } from './runs.ts';
import { nightsInWords } from './words.ts';

const weightHeight = 62;
const broodHeight = 78;
const gap = 12;

export const tracesHeight = (rail: Rail): number =>
  (rail.nights.length > 0 ? weightHeight + gap : 0) + (rail.brood.length > 0 ? broodHeight + gap : 0);

interface Place {
  readonly rail: Rail;
  readonly at: (day: number) => number;
  readonly top: number;
  readonly left: number;
  readonly right: number;
}

export function HorizontalTraces({ rail, at, top, left, right }: Place) {
  const broodTop = top + (rail.nights.length > 0 ? weightHeight + gap : 0);
  return (
    <g aria-hidden="true">
      {rail.nights.length > 0 && <NightWeights rail={rail} at={at} top={top} left={left} right={right} />}
      {rail.brood.length > 0 && <Brood rail={rail} at={at} top={broodTop} left={left} right={right} />}
    </g>
  );
}

/** A line is broken where nothing was measured for longer than this, days. */
const nightGapDays = 1.6;
const hourGapDays = 0.15;

function NightWeights({ rail, at, top, left, right }: Place) {
  const values = rail.nights.map((night) => night.kg);
  const low = Math.min(...values);
  const high = Math.max(...values);
  const y = evenScale(low, Math.max(high, low + 0.3), top + weightHeight - 8, top + 10);
  const last = rail.nights.at(-1);
  if (!last) return null;
  const change = nightsInWords(rail.nights, display.value);
  const wide = change.length * 6.6;
  const x = at(last.day) + 10 + wide < right ? at(last.day) + 10 : Math.max(left + 74, at(last.day) - wide);
  const below = x < at(last.day) ? top + weightHeight + 4 : y(last.kg) + 4;
  return (
    <>
      <text class="words soft" x={left} y={top + 20}>
        weight
        <tspan x={left} dy="16">
          at night
        </tspan>
      </text>
      {runs(rail.nights, nightGapDays).map((run) => (
        <path
          key={run[0]?.day}
          class="trace"
          d={pathOf(run.map((n): Point => ({ x: at(n.day), y: y(n.kg) })))}
        />
      ))}
      {rail.nights.map((n) => (
        <circle key={n.day} class="trace-dot" cx={at(n.day)} cy={y(n.kg)} r="2.2" />
      ))}
      <text class="words" x={x} y={below}>
        {change}
      </text>
    </>
  );
}

function Brood({ rail, at, top, left, right }: Place) {
  const values = rail.brood.flatMap((hour) => [hour.low, hour.high]);
  const bands = rail.band.flatMap((band) => [band.lowC, band.highC]);
  const low = Math.min(...values, ...bands);
  const high = Math.max(...values, ...bands);
  const y = evenScale(low, high, top + broodHeight - 6, top + 6);
  const last = rail.brood.at(-1);
  return (
    <>
      <text class="words soft" x={left} y={top + 26}>
        brood
        <tspan x={left} dy="16">
          warmth
        </tspan>
      </text>
      {rail.band.map((band) => (
        <rect
          key={band.fromDay}
          class="expected"
          x={at(band.fromDay)}
          y={y(band.highC)}
          width={Math.max(0, at(Math.min(band.toDay, rail.lastDay)) - at(band.fromDay))}
          height={y(band.lowC) - y(band.highC)}
        />
      ))}
      {runs(rail.brood, hourGapDays).map((run) => (
        <BroodRun key={run[0]?.day} run={run} at={at} y={y} />
      ))}
      {last && (
        <text class="words" x={Math.min(at(last.day) + 10, right - 60)} y={y(last.mean) + 4}>
          {temperature(last.mean, display.value)}
        </text>
      )}
    </>
  );
}

interface Run {
  readonly run: Rail['brood'];
  readonly at: (day: number) => number;
  readonly y: (celsius: number) => number;
}

function BroodRun({ run, at, y }: Run) {
  const upper = run.map((h): Point => ({ x: at(h.day), y: y(h.high) }));
  const lower = run.map((h): Point => ({ x: at(h.day), y: y(h.low) })).reverse();
  return (
    <>
      <path class="trace-spread" d={`${pathOf([...upper, ...lower])}Z`} />
      <path class="trace warm" d={pathOf(run.map((h): Point => ({ x: at(h.day), y: y(h.mean) })))} />
    </>
  );
}
