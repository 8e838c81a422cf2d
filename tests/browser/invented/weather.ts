/** Invented readings: smooth functions of time with a seeded scatter, so that every run shows the same. */

export const hourMs = 3_600_000;
export const dayMs = 24 * hourMs;

/** 0..1, the same for the same number. */
export function scatter(seed: number): number {
  const x = Math.sin(seed * 12.9898) * 43758.5453;
  return x - Math.floor(x);
}

/** Warmest in mid-afternoon. */
export function outsideC(atMs: number): number {
  const hour = (atMs / hourMs) % 24;
  return 12 + 7 * Math.cos(((hour - 14) / 24) * 2 * Math.PI) + (scatter(Math.floor(atMs / hourMs)) - 0.5);
}

export interface Course {
  readonly seed: number;
  readonly startKg: number;
  /** Mass of the foragers that leave, kg, and the days in which most have. */
  readonly driftKg: number;
  readonly driftDays: number;
  /** From this day on the brood cools; undefined for one that stays warm. */
  readonly coolsFromDay?: number;
}

/** Weight at a fractional day since the split. */
export function weightKg(course: Course, day: number): number {
  const gone = course.driftKg * (1 - Math.exp(-Math.max(0, day) / (course.driftDays / 2.3)));
  const hour = (((day % 1) + 1) % 1) * 24;
  const away = hour > 9 && hour < 19 ? 0.12 * Math.sin(((hour - 9) / 10) * Math.PI) : 0;
  const noise = (scatter(course.seed * 1000 + Math.round(day * 200)) - 0.5) * 0.012;
  return course.startKg - gone - 0.028 * day - (day > 0 ? away : 0) + noise;
}

export function broodC(course: Course, day: number): number {
  const noise = (scatter(course.seed * 77 + Math.round(day * 90)) - 0.5) * 0.5;
  const cooling = course.coolsFromDay === undefined ? 0 : Math.max(0, day - course.coolsFromDay) * 9;
  return 34.6 + noise - Math.min(cooling, 6);
}
