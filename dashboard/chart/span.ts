/** Which stretch of time a chart shows, and how zooming and moving change it. Pure. */

export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/** No closer than half an hour: fewer readings than that say nothing. */
const shortestMs = 30 * 60_000;

/** Kept inside the whole; never shorter than the shortest, never longer than the whole. */
export function within(span: Span, whole: Span): Span {
  const longest = whole.toMs - whole.fromMs;
  const length = Math.min(longest, Math.max(Math.min(shortestMs, longest), span.toMs - span.fromMs));
  const middle = (span.fromMs + span.toMs) / 2;
  const fromMs = Math.min(whole.toMs - length, Math.max(whole.fromMs, middle - length / 2));
  return { fromMs, toMs: fromMs + length };
}

/** `factor` under 1 zooms in; the instant at `aroundMs` stays where it is. */
export function zoomed(span: Span, factor: number, aroundMs: number, whole: Span): Span {
  return within(
    {
      fromMs: aroundMs - (aroundMs - span.fromMs) * factor,
      toMs: aroundMs + (span.toMs - aroundMs) * factor,
    },
    whole,
  );
}

/** By a share of its own length; positive is later. */
export function moved(span: Span, share: number, whole: Span): Span {
  const by = (span.toMs - span.fromMs) * share;
  return within({ fromMs: span.fromMs + by, toMs: span.toMs + by }, whole);
}

/** Both, and what lies between them. */
export const joined = (a: Span, b: Span): Span => ({
  fromMs: Math.min(a.fromMs, b.fromMs),
  toMs: Math.max(a.toMs, b.toMs),
});

/** Whether it leaves nothing out. */
export const isAll = (span: Span, whole: Span): boolean =>
  span.fromMs <= whole.fromMs && span.toMs >= whole.toMs;

/** The last so many ms of the whole. */
export const newest = (lengthMs: number, whole: Span): Span =>
  within({ fromMs: whole.toMs - lengthMs, toMs: whole.toMs }, whole);

/** What a key does to the span; undefined where the key is not one of the chart's. */
export function byKey(key: string, span: Span, whole: Span): Span | undefined {
  const middle = (span.fromMs + span.toMs) / 2;
  switch (key) {
    case 'ArrowLeft':
      return moved(span, -0.2, whole);
    case 'ArrowRight':
      return moved(span, 0.2, whole);
    case '+':
    case '=':
      return zoomed(span, 0.6, middle, whole);
    case '-':
      return zoomed(span, 1 / 0.6, middle, whole);
    case 'Home':
    case '0':
      return whole;
    case 'End':
      return newest(span.toMs - span.fromMs, whole);
    default:
      return undefined;
  }
}
