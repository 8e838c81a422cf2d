/** One nuc's rail lying down, with its words and, below it on the same days, its traces. */
import { useMemo } from 'preact/hooks';
import type { Rail } from '../../server/contract/nucs.ts';
import { localDate, addDays } from '../format/calendar.ts';
import { dateInWords } from '../format/when.ts';
import type { Frame } from './frame.ts';
import { evenScale } from './frame.ts';
import { lanesUsed, placeLabels, wordsWidth } from './labels.ts';
import type { Placed } from './labels.ts';
import { firstDay } from './first-day.ts';
import { RailShapes } from './rail-shapes.tsx';
import { HorizontalTraces, tracesHeight } from './horizontal-traces.tsx';
import { dayWords, togetherOnADay, visitsInWords } from './words.ts';

interface Along {
  readonly rail: Rail;
  readonly at: (day: number) => number;
}

const side = 14;
const laneHeight = 17;
const above = 44;
const below = 17;

export function HorizontalRail({ rail, width }: { rail: Rail; width: number }) {
  const left = side + (rail.nights.length > 0 || rail.brood.length > 0 ? 74 : 0);
  const at = useMemo(() => evenScale(firstDay(rail), rail.lastDay, left, width - side), [rail, left, width]);
  const shownWindows = rail.windows.filter((w) => w.fromDay < rail.lastDay && w.kind !== 'open-brood');
  const upper = placeLabels(
    shownWindows
      .filter((w) => w.kind !== 'sealed-brood')
      .map((w) => ({
        at: at((w.fromDay + Math.min(w.toDay, rail.lastDay)) / 2),
        text: w.text,
      })),
    width - side,
    2,
  );
  const lower = placeLabels(
    togetherOnADay(rail.visits).map((those) => ({
      at: at(those[0]?.day ?? 0),
      text: visitsInWords(those),
    })),
    width - side,
    4,
  );
  const base = 24 + Math.max(1, lanesUsed(upper)) * laneHeight + above;
  const frame: Frame = { standing: false, at, base, above, below };
  const lowerTop = base + below + 38;
  const tracesTop = lowerTop + lanesUsed(lower) * laneHeight + 10;
  const height = tracesTop + tracesHeight(rail);
  return (
    <svg class="rail across" width={width} height={height} role="img" aria-label={rail.inWords}>
      <TodayLine x={at(rail.today)} shown={rail.today <= rail.lastDay} from={18} to={height} />
      <Upper placed={upper} base={base} />
      <RailShapes rail={rail} frame={frame} mark={6.5} />
      <Lower placed={lower} frame={frame} top={lowerTop} />
      <DayNames rail={rail} at={at} y={base + below + 17} width={width} />
      <TodayWords rail={rail} at={at} width={width} />
      <HorizontalTraces rail={rail} at={at} top={tracesTop} left={side} right={width - side} />
    </svg>
  );
}

function TodayLine({ x, shown, from, to }: { x: number; shown: boolean; from: number; to: number }) {
  return shown ? <path class="today faint" d={`M${String(x)} ${String(from)}V${String(to)}`} /> : null;
}

function Upper({ placed, base }: { placed: readonly Placed[]; base: number }) {
  const bottom = base - above - 6;
  return (
    <g aria-hidden="true">
      {placed.map((label) => (
        <text key={label.text} class="words soft" x={label.left} y={bottom - label.lane * laneHeight}>
          {label.text}
        </text>
      ))}
    </g>
  );
}

function Lower({ placed, frame, top }: { placed: readonly Placed[]; frame: Frame; top: number }) {
  return (
    <g aria-hidden="true">
      {placed.map((label, i) => {
        const y = top + label.lane * laneHeight;
        const leader = `M${String(label.at)} ${String(frame.base + 8)}V${String(y - 12)}`;
        return (
          <g key={`${label.text}${String(i)}`}>
            <path class="leader" d={leader} />
            <text class="words" x={label.left} y={y}>
              {label.text}
            </text>
          </g>
        );
      })}
    </g>
  );
}

function DayNames({ rail, at, y, width }: Along & { y: number; width: number }) {
  const date0 = localDate(Date.parse(rail.day0), rail.timeZone);
  const days: number[] = [];
  for (let day = 0; day <= rail.lastDay; day += 7) days.push(day);
  const roomy = at(7) - at(0) > 170;
  return (
    <g aria-hidden="true">
      {days.map((day) => (
        <DayName
          key={day}
          words={roomy ? `day ${String(day)}, ${dateInWords(addDays(date0, day))}` : `day ${String(day)}`}
          x={at(day)}
          y={y}
          width={width}
        />
      ))}
    </g>
  );
}

function DayName({ words, x, y, width }: { words: string; x: number; y: number; width: number }) {
  const wide = wordsWidth(words);
  return (
    <text class="words soft" x={Math.max(0, Math.min(width - wide, x - wide / 2))} y={y}>
      {words}
    </text>
  );
}

function TodayWords({ rail, at, width }: { rail: Rail; at: (day: number) => number; width: number }) {
  if (rail.today > rail.lastDay) return null;
  const text = `today, ${dayWords(rail.today)}`;
  const x = Math.min(width - wordsWidth(text) - 4, at(rail.today) + 5);
  return (
    <g aria-hidden="true">
      <text class="words strong" x={x} y={14}>
        {text}
      </text>
    </g>
  );
}
