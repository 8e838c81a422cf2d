import { signal } from '@preact/signals';

/** The sensor may come later; the calendar and the log work without one. */
export const sensorSkipped = signal(false);
