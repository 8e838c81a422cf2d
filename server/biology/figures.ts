/** All figures of bee biology, by subject. */
export { highEnd, lowEnd, type Figure } from './figure.ts';
export * from './alert-figures.ts';
export * from './assumed-figures.ts';
export * from './brood-figures.ts';
export * from './drift-figures.ts';
export * from './emergency-cell-figures.ts';
export * from './keeper-figures.ts';
export * from './look-figures.ts';
export * from './nest-figures.ts';
export * from './practice-figures.ts';
export * from './population-figures.ts';
export * from './scale-figures.ts';
export * from './thermal-figures.ts';
export * from './weather-figures.ts';
export * from './weight-figures.ts';
