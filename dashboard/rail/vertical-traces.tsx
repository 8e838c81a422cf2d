/** The traces beside a standing rail: heavier and warmer lie to the right. */
import type { Rail } from '../../server/contract/nucs.ts';
import { temperature, weight } from '../format/units.ts';
import { display } from '../state/session.ts';
import type { Point } from './frame.ts';
import { evenScale, pathOf } from './frame.ts';
import { runs } from './runs.ts';

interface Place {
  readonly rail: Rail;
  readonly at: (day: number) => number;
  readonly height: number;
  /** Room for each of the two traces, px. */
  readonly wide: number;
}

export function VerticalTraces({ rail, at, height, wide }: Place) {
  const weights = rail.nights.map((night) => night.kg);
  const warmths = [
    ...rail.brood.flatMap((hour) => [hour.low, hour.high]),
    ...rail.band.flatMap((band) => [band.lowC, band.highC]),
  ];
  const x = evenScale(Math.min(...weights), Math.max(...weights, Math.min(...weights) + 0.3), 6, wide - 6);
  const c = evenScale(Math.min(...warmths), Math.max(...warmths), wide + 8, wide * 2);
  return (
    <svg class="rail traces-down" width={wide * 2 + 6} height={height} aria-hidden="true">
      {rail.nights.length > 0 &&
        runs(rail.nights, 1.6).map((run) => (
          <path
            key={run[0]?.day}
            class="trace"
            d={pathOf(run.map((n): Point => ({ x: x(n.kg), y: at(n.day) })))}
          />
        ))}
      {rail.band.map((band) => (
        <rect
          key={band.fromDay}
          class="expected"
          x={c(band.lowC)}
          y={at(band.fromDay)}
          width={c(band.highC) - c(band.lowC)}
          height={Math.max(0, at(Math.min(band.toDay, rail.lastDay)) - at(band.fromDay))}
        />
      ))}
      {rail.brood.length > 0 &&
        runs(rail.brood, 0.15).map((run) => (
          <path
            key={run[0]?.day}
            class="trace warm"
            d={pathOf(run.map((h): Point => ({ x: c(h.mean), y: at(h.day) })))}
          />
        ))}
      <TraceEnds rail={rail} at={at} wide={wide} />
    </svg>
  );
}

function TraceEnds({ rail, at, wide }: Omit<Place, 'height'>) {
  const night = rail.nights.at(-1);
  const hour = rail.brood.at(-1);
  return (
    <>
      {night && (
        <text class="words" x={2} y={at(night.day) + 18}>
          {weight(night.kg, display.value)}
        </text>
      )}
      {hour && (
        <text class="words" x={wide + 10} y={at(hour.day) + 18}>
          {temperature(hour.mean, display.value)}
        </text>
      )}
    </>
  );
}
