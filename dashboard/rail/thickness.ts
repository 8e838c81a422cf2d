/** How thick a window is drawn on a day: drawn as what it is, never as a plain box. */
import type { Rail } from '../../server/contract/nucs.ts';

export type Window = Rail['windows'][number];
export type WindowKind = Window['kind'];
export type Bar = Rail['bars'][number];
export type Visit = Rail['visits'][number];

/** Above the line: what could become another queen. Below it: brood. */
export const liesAbove: Readonly<Record<WindowKind, boolean>> = {
  'rearable-larvae': true,
  'virgin-possible': true,
  'laying-workers': true,
  'open-brood': false,
  'sealed-brood': false,
};

/** Days over which a danger grows to its full height once its window opens. */
const growthDays = 2;

/** Share of full thickness, 0..1, on a day of the rail. */
export function thickness(window: Window, day: number): number {
  const { kind, fromDay, toDay } = window;
  if (day < fromDay || day > toDay || toDay <= fromDay) return 0;
  const gone = (day - fromDay) / (toDay - fromDay);
  switch (kind) {
    // Every day the youngest larvae are a day older, and nothing replaces them.
    case 'rearable-larvae':
    case 'open-brood':
    case 'sealed-brood':
      return 1 - gone;
    case 'virgin-possible':
      return Math.min(1, 0.35 + (day - fromDay) / growthDays);
    case 'laying-workers':
      return Math.min(1, (day - fromDay) / (2 * growthDays));
  }
}

/**
 * Brood is told in two windows, open and then sealed; what is still to emerge is one supply, whole on the day of the
 * split and narrowing to the day on which the last worker emerges.
 */
export function asOneSupply(windows: readonly Window[]): readonly Window[] {
  const open = windows.find((window) => window.kind === 'open-brood');
  return windows.map((window) =>
    window.kind === 'sealed-brood' && open && open.fromDay < window.fromDay
      ? { ...window, fromDay: open.fromDay }
      : window,
  );
}

/** The outline as (day, thickness) from the window's start to its end, no more points than the shape needs. */
export function outline(window: Window, lastDay: number): readonly (readonly [number, number])[] {
  const { fromDay } = window;
  const toDay = Math.min(window.toDay, lastDay);
  if (toDay <= fromDay) return [];
  const steps = window.kind === 'virgin-possible' || window.kind === 'laying-workers' ? 12 : 2;
  const points: [number, number][] = [];
  for (let i = 0; i <= steps; i += 1) {
    const day = fromDay + ((toDay - fromDay) * i) / steps;
    points.push([day, thickness(window, day)]);
  }
  return points;
}
