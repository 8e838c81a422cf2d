/** The page's colours, for a canvas, which can't see style sheets. */
import type { ChartColors } from './evidence-parts.ts';

export function chartColors(
  element: Element,
): ChartColors & { readonly grid: string; readonly warm: string; readonly cold: string } {
  const style = getComputedStyle(element);
  const of = (name: string): string => style.getPropertyValue(`--${name}`).trim();
  return {
    ink: of('ink'),
    soft: of('soft'),
    brood: of('brood'),
    queen: of('queen'),
    now: of('now'),
    today: of('today'),
    paper: of('card'),
    grid: of('rule'),
    warm: of('warm'),
    cold: of('cold'),
    font: style.fontFamily,
  };
}
