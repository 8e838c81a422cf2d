import { signal } from '@preact/signals';

/** The sensor may come later; the calendar and the log work without one. */
export const skipped = signal<ReadonlySet<'sensor' | 'place'>>(new Set());

export const skip = (step: 'sensor' | 'place'): void => {
  skipped.value = new Set([...skipped.value, step]);
};
