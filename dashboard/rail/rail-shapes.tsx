/** The drawing itself, the same lying and standing: windows, bars, visits and the line of today. No words. */
import type { Rail } from '../../server/contract/nucs.ts';
import { firstDay } from './first-day.ts';
import type { Frame } from './frame.ts';
import { pathOf, pointAt } from './frame.ts';
import type { Bar, Visit, Window } from './thickness.ts';
import { asOneSupply, liesAbove, outline, thickness } from './thickness.ts';

interface Drawn {
  readonly rail: Rail;
  readonly frame: Frame;
  /** Radius of a visit's mark; everything else follows from it. */
  readonly mark: number;
}

export function RailShapes({ rail, frame, mark }: Drawn) {
  return (
    <>
      {sorted(rail.windows).map((window, i) => (
        <WindowShape key={`w${String(i)}`} window={window} frame={frame} lastDay={rail.lastDay} />
      ))}
      <Ticks rail={rail} frame={frame} />
      {rail.bars.map((bar, i) => (
        <BarShape key={`b${String(i)}`} bar={bar} frame={frame} mark={mark} lastDay={rail.lastDay} />
      ))}
      <TodayLine rail={rail} frame={frame} />
      {rail.visits.map((visit) => (
        <VisitMark key={visit.id} visit={visit} frame={frame} mark={mark} />
      ))}
      {rail.alerts.map((alert) => (
        <AlertMark key={alert.id} alert={alert} frame={frame} mark={mark} />
      ))}
    </>
  );
}

/** What lies outside is drawn first, so that open brood shows inside all brood. */
const sorted = (windows: readonly Window[]): readonly Window[] =>
  [...asOneSupply(windows)].sort(
    (a, b) => Number(b.kind === 'sealed-brood') - Number(a.kind === 'sealed-brood'),
  );

function WindowShape({ window, frame, lastDay }: { window: Window; frame: Frame; lastDay: number }) {
  const points = outline(window, lastDay);
  const first = points[0];
  const last = points.at(-1);
  if (!first || !last) return null;
  const above = liesAbove[window.kind];
  const room = above ? frame.above : -frame.below;
  const edge = points.map(([day, thick]) => pointAt(frame, day, room * thick * heightOf(window.kind)));
  const shape = pathOf([pointAt(frame, first[0], 0), ...edge, pointAt(frame, last[0], 0)]);
  return (
    <>
      <path class={`window ${window.kind}`} d={`${shape}Z`} />
      {window.kind === 'virgin-possible' && <Hatch window={window} frame={frame} lastDay={lastDay} />}
    </>
  );
}

/** Sealed brood lies outside open brood; a danger is drawn lower than the larvae it comes from. */
const heights = {
  'rearable-larvae': 1,
  'virgin-possible': 0.5,
  'laying-workers': 0.4,
  'open-brood': 0.55,
  'sealed-brood': 1,
} as const;
const heightOf = (kind: Window['kind']): number => heights[kind];

/** Px between the strokes of a hatch, and how far one leans. */
const strokeGapPx = 7;
const leanPx = 8;

/** Slanting strokes, so that the danger is not told by colour alone. */
function Hatch({ window, frame, lastDay }: { window: Window; frame: Frame; lastDay: number }) {
  const end = Math.min(window.toDay, lastDay);
  const height = frame.above * heightOf(window.kind);
  const strokes: string[] = [];
  for (let day = window.fromDay; day < end;) {
    // Days of a standing rail differ in height, so px are counted where the stroke is.
    const perDay = Math.max(1, (frame.at(day + 0.05) - frame.at(day)) / 0.05);
    const tip = Math.min(end, day + leanPx / perDay);
    const top = thickness(window, Math.min(tip, window.toDay)) * height;
    strokes.push(pathOf([pointAt(frame, day, 0), pointAt(frame, tip, top)]));
    day += strokeGapPx / perDay;
  }
  return <path class="hatch" d={strokes.join('')} />;
}

function Ticks({ rail, frame }: { rail: Rail; frame: Frame }) {
  const strokes: string[] = [pathOf([pointAt(frame, firstDay(rail), 0), pointAt(frame, rail.lastDay, 0)])];
  for (let day = Math.ceil(firstDay(rail)); day <= rail.lastDay; day += 1) {
    const long = day % 7 === 0 ? 5 : 2.5;
    strokes.push(pathOf([pointAt(frame, day, long), pointAt(frame, day, -long)]));
  }
  return <path class="line" d={strokes.join('')} />;
}

function BarShape({ bar, frame, mark, lastDay }: { bar: Bar; frame: Frame; mark: number; lastDay: number }) {
  const to = Math.min(bar.toDay, lastDay);
  if (to <= bar.fromDay) return null;
  const planned = bar.planned ? ' planned' : '';
  const along = (off: number): string => pathOf([pointAt(frame, bar.fromDay, off), pointAt(frame, to, off)]);
  switch (bar.kind) {
    case 'caged':
      return <path class={`bar caged${planned}`} d={along(0)} stroke-width={mark * 0.8} />;
    case 'hands-off':
      return <path class={`bar hands-off${planned}`} d={along(mark * 0.9) + along(-mark * 0.9)} />;
    case 'laying':
      return <path class={`bar laying${planned}`} d={along(-mark * 1.3)} stroke-width={mark * 0.55} />;
  }
}

function TodayLine({ rail, frame }: { rail: Rail; frame: Frame }) {
  if (rail.today > rail.lastDay) return null;
  const line = pathOf([
    pointAt(frame, rail.today, frame.above + 4),
    pointAt(frame, rail.today, -frame.below - 4),
  ]);
  return <path class="today" d={line} />;
}

/** Done: filled. Planned: a ring. Due: a ring with a dot. Overdue: a diamond. */
function VisitMark({ visit, frame, mark }: { visit: Visit; frame: Frame; mark: number }) {
  const { x, y } = pointAt(frame, visit.day, 0);
  if (visit.state === 'overdue') {
    const r = mark * 1.25;
    const corners = `M${String(x)} ${String(y - r)}l${String(r)} ${String(r)}l${String(-r)} ${String(r)}l${String(-r)} ${String(-r)}Z`;
    return <path class="visit overdue" d={corners} />;
  }
  return (
    <>
      <circle class={`visit ${visit.state}`} cx={x} cy={y} r={mark} />
      {visit.state === 'due' && <circle class="visit-dot" cx={x} cy={y} r={mark * 0.4} />}
    </>
  );
}

function AlertMark({ alert, frame, mark }: { alert: Rail['alerts'][number]; frame: Frame; mark: number }) {
  const off = -frame.below - 1;
  const from = pointAt(frame, alert.day, off);
  const to = pointAt(frame, Math.max(alert.toDay, alert.day + 0.15), off);
  return <path class={`alert-span ${alert.urgency}`} d={pathOf([from, to])} stroke-width={mark * 0.6} />;
}
