/** Fingers and mouse on a chart: one moves it, two or the wheel zoom it. Up-and-down stays the page's. */
import type { Span } from './span.ts';
import { within, zoomed } from './span.ts';

interface Follow {
  readonly span: () => Span;
  readonly whole: () => Span;
  readonly area: () => { readonly left: number; readonly right: number };
  readonly onSpan: (span: Span) => void;
  readonly onPoint: (atMs: number | undefined) => void;
}

/** Less than this is a tap that reads, not a drag that moves, px. */
const slackPx = 6;

export function followPointers(element: HTMLElement, follow: Follow): () => void {
  const down = new Map<number, number>();
  let start: { readonly span: Span; readonly xs: readonly number[] } | undefined;

  const xIn = (event: PointerEvent | WheelEvent): number =>
    event.clientX - element.getBoundingClientRect().left;
  const instant = (x: number, span: Span): number => {
    const { left, right } = follow.area();
    return span.fromMs + ((x - left) / Math.max(1, right - left)) * (span.toMs - span.fromMs);
  };
  const restart = (): void => {
    start = { span: follow.span(), xs: [...down.values()] };
  };
  const onDown = (event: PointerEvent): void => {
    down.set(event.pointerId, xIn(event));
    restart();
  };
  const drag = (): void => {
    if (!start) return;
    const [a0 = 0, b0] = start.xs;
    const [a1 = 0, b1] = [...down.values()];
    const from = instant(a0, start.span);
    if (b0 !== undefined && b1 !== undefined) {
      const factor = Math.max(8, Math.abs(a0 - b0)) / Math.max(8, Math.abs(a1 - b1));
      follow.onSpan(zoomed(start.span, factor, instant((a0 + b0) / 2, start.span), follow.whole()));
    } else if (Math.abs(a1 - a0) > slackPx) {
      const by = from - instant(a1, start.span);
      follow.onSpan(within({ fromMs: start.span.fromMs + by, toMs: start.span.toMs + by }, follow.whole()));
    }
  };
  const onMove = (event: PointerEvent): void => {
    if (down.has(event.pointerId)) {
      down.set(event.pointerId, xIn(event));
      drag();
      if (event.pointerType === 'mouse' && !element.hasPointerCapture(event.pointerId)) {
        element.setPointerCapture(event.pointerId);
      }
      return;
    }
    follow.onPoint(instant(xIn(event), follow.span()));
  };
  const onUp = (event: PointerEvent): void => {
    if (down.delete(event.pointerId) && event.type === 'pointerup') {
      follow.onPoint(instant(xIn(event), follow.span()));
    }
    restart();
  };
  const onWheel = (event: WheelEvent): void => {
    // The bare wheel scrolls the page; with Ctrl (which is also what a pinch on a touchpad sends) it zooms.
    if (!event.ctrlKey) return;
    event.preventDefault();
    const span = follow.span();
    follow.onSpan(zoomed(span, Math.exp(event.deltaY / 300), instant(xIn(event), span), follow.whole()));
  };
  element.addEventListener('pointerdown', onDown);
  element.addEventListener('pointermove', onMove);
  for (const type of ['pointerup', 'pointercancel', 'pointerleave'] as const)
    element.addEventListener(type, onUp);
  element.addEventListener('wheel', onWheel, { passive: false });
  return () => {
    element.removeEventListener('pointerdown', onDown);
    element.removeEventListener('pointermove', onMove);
    for (const type of ['pointerup', 'pointercancel', 'pointerleave'] as const)
      element.removeEventListener(type, onUp);
    element.removeEventListener('wheel', onWheel);
  };
}
