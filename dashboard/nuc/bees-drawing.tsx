/** The nuc's bees by day as they are projected, with what is not known about them as a shade. */
import type { NucDetail } from '../../server/contract/nucs.ts';
import { fixed } from '../format/units.ts';
import type { Point } from '../rail/frame.ts';
import { evenScale, pathOf } from '../rail/frame.ts';
import { useWidth } from '../rail/use-width.ts';

type Population = NonNullable<NucDetail['population']>;
type Method = NonNullable<NucDetail['setup']>['method'];
type Day = Population['days'][number];

const height = 190;
const left = 58;
const bottom = 28;
const top = 20;

export function BeesDrawing({ one, population }: { one: NucDetail; population: Population }) {
  const { ref, width } = useWidth<HTMLDivElement>();
  if (population.days.length < 2) return null;
  return (
    <div ref={ref} class="bees-drawing">
      {width > 0 && <Drawing one={one} population={population} width={width} />}
    </div>
  );
}

interface DrawingProps {
  readonly one: NucDetail;
  readonly population: Population;
  readonly width: number;
}

/** Half of the axis in whole thousands (of few bees, hundreds), so that its figures can be said. */
function niceHalf(most: number): number {
  const step = most > 4_000 ? 1_000 : 100;
  return Math.max(step, Math.ceil(most / 2 / step) * step);
}

function Drawing({ one, population: { days, text, release, troughDay }, width }: DrawingProps) {
  const most = days.reduce((high, day) => Math.max(high, day.high), 0);
  const first = days[0]?.day ?? 0;
  const last = days.at(-1)?.day ?? 1;
  const x = evenScale(first, last, left, width - 14);
  const y = evenScale(0, 2 * niceHalf(most), height - bottom, top);
  const line = (of: (day: Day) => number): Point[] => days.map((day) => ({ x: x(day.day), y: y(of(day)) }));
  const shade = [...line((day) => day.high), ...line((day) => day.low).reverse()];
  const trough = days.find(({ day }) => day === troughDay);
  return (
    <svg class="rail" width={width} height={height} role="img" aria-label={text}>
      <path class="expected" d={`${pathOf(shade)}Z`} />
      <path class="middle" d={pathOf(line((day) => day.bees))} />
      <g aria-hidden="true">
        {release.day >= first && release.day <= last && (
          <Mark
            x={x(release.day)}
            right={width - 4}
            words={`${release.ifToday ? 'let out today' : letOutWords(one.setup?.method, release.done)}: ${fixed(release.framesOfBees, 1)} frames`}
          />
        )}
        {one.day !== null && one.day > first && one.day < last && (
          <>
            <line class="bees-now" {...upright(x(one.day))} />
            <text
              class="words"
              x={x(one.day) + (x(one.day) > width - 70 ? -5 : 5)}
              y={height - bottom - 6}
              text-anchor={x(one.day) > width - 70 ? 'end' : 'start'}
            >
              today
            </text>
          </>
        )}
        {trough && <circle class="bees-trough" cx={x(trough.day)} cy={y(trough.bees)} r={4} />}
        {days
          .filter(({ day }) => day % 7 === 0 && x(day) < width - 20)
          .map(({ day }) => (
            <text key={day} class="words soft" x={x(day)} y={height - 8} text-anchor="middle">
              {day === 0 ? 'split' : fixed(day, 0)}
            </text>
          ))}
        <text class="words soft" x={2} y={top - 6}>
          bees
        </text>
        <text class="words soft" x={2} y={height - 8}>
          day
        </text>
        {[0, niceHalf(most), 2 * niceHalf(most)].map((level) => (
          <text key={level} class="words soft" x={left - 8} y={y(level) + 4} text-anchor="end">
            {level.toLocaleString('en-GB')}
          </text>
        ))}
      </g>
    </svg>
  );
}

const letOutWords = (method: Method | undefined, done: boolean): string => {
  if (method === 'push-in-cage') return done ? 'mesh lifted' : 'mesh to be lifted';
  return done ? 'candy end opened' : 'candy end to be opened';
};

const upright = (x: number) => ({ x1: x, x2: x, y1: top, y2: height - bottom });

/** At least as wide as the words of a mark are. */
const wordsWidth = 240;

function Mark({ x, right, words }: { x: number; right: number; words: string }) {
  // Too near the right edge they end at it.
  const fits = x - 20 + wordsWidth <= right;
  return (
    <>
      <line class="bees-mark" {...upright(x)} />
      <text class="words soft" x={fits ? x - 20 : right} y={top - 6} text-anchor={fits ? 'start' : 'end'}>
        {words}
      </text>
    </>
  );
}
