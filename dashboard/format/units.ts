/** Readings in the reader's units. On the wire: Cel, kg, %RH, %EL, V, mm. */

export interface Display {
  readonly temperature: 'C' | 'F';
  readonly weight: 'kg' | 'lb';
}

/** International avoirdupois pound, exact by definition (1959): 0.45359237 kg. */
export const kgPerPound = 0.45359237;
const gramsPerOunce = (kgPerPound * 1000) / 16;

/** A real minus sign, and never "−0.0". */
export function fixed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

interface ResourceView {
  readonly unit: string;
  readonly digits: number;
  readonly of: (value: number) => number;
}

const same = (value: number): number => value;

const shown = (unit: string, display: Display): ResourceView => {
  switch (unit) {
    // The wire's readings are in `Cel`; a batch is told in `°C`.
    case 'Cel':
    case '°C':
      return display.temperature === 'F'
        ? { unit: '°F', digits: 1, of: (c) => (c * 9) / 5 + 32 }
        : { unit: '°C', digits: 1, of: same };
    case 'kg':
      return display.weight === 'lb'
        ? { unit: 'lb', digits: 2, of: (kg) => kg / kgPerPound }
        : { unit: 'kg', digits: 2, of: same };
    case 'g':
      return display.weight === 'lb'
        ? { unit: 'oz', digits: 1, of: (g) => g / gramsPerOunce }
        : { unit: 'g', digits: 0, of: same };
    case '%RH':
      return { unit: '%', digits: 0, of: same };
    case '%EL':
      return { unit: '%', digits: 0, of: same };
    case 'V':
      return { unit: 'V', digits: 2, of: same };
    case 'mm':
      return { unit: 'mm', digits: 1, of: same };
    default:
      return { unit, digits: 2, of: same };
  }
};

export const shownUnit = (unit: string, display: Display): string => shown(unit, display).unit;
export const toShown = (value: number, unit: string, display: Display): number =>
  shown(unit, display).of(value);

/** Back from what the reader typed. */
export function fromShown(value: number, unit: string, display: Display): number {
  const zero = toShown(0, unit, display);
  return (value - zero) / (toShown(1, unit, display) - zero);
}
/** A difference that the reader typed: 1.8 °F are one degree Celsius. */
export const differenceFromShown = (value: number, unit: string, display: Display): number =>
  fromShown(value, unit, display) - fromShown(0, unit, display);

/**
 * A limit of a rule as the reader sets it. Its unit is one of the rules' own: `°C`, `K` (a difference), `g`, and these by
 * time; what is not of warmth or weight stays as it is.
 */
interface ShownLimit {
  readonly unit: string;
  /** Four figures are more than any limit is known to. */
  of(value: number): number;
  /** A value that comes out at a bound when shown is that bound. */
  back(shown: number, bounds: { readonly min: number; readonly max: number }): number;
}

export function limitIn(unit: string, display: Display): ShownLimit {
  const [base = '', per] = unit.split(/(?=[/·])/);
  const difference = base === 'K' || per !== undefined;
  const wire = base === '°C' || base === 'K' ? 'Cel' : base;
  const zero = difference ? toShown(0, wire, display) : 0;
  const exactly = (value: number): number => toShown(value, wire, display) - zero;
  const isOwn = exactly(1) === 1;
  const of = (value: number): number => (isOwn ? value : Number(exactly(value).toPrecision(4)));
  return {
    unit: `${shownUnit(wire, display)}${per ?? ''}`,
    of,
    back(typed, { min, max }) {
      if (typed === of(min)) return min;
      if (typed === of(max)) return max;
      return isOwn ? typed : fromShown(typed + zero, wire, display);
    },
  };
}

/** `34.6 °C`, `12.44 kg`, `84,321 counts`. */
export function reading(value: number, unit: string, display: Display): string {
  if (unit === 'counts') return count(value, 'count');
  const as = shown(unit, display);
  return `${fixed(as.of(value), as.digits)} ${as.unit}`;
}
/** A newest reading; an error value is no figure. */
export const newest = (
  {
    value,
    unit,
    impossible,
  }: { readonly value: number; readonly unit: string; readonly impossible?: boolean | undefined },
  display: Display,
): string => (impossible ? 'sensor fault' : reading(value, unit, display));
export const temperature = (celsius: number, display: Display): string => reading(celsius, 'Cel', display);

/** Wider than this, °C, and its tenths are not known; as the server has it. */
const wideC = 5;
/** With the digits that its interval leaves it. */
export function temperatureWithin(
  celsius: number,
  { lowC, highC }: { readonly lowC: number; readonly highC: number },
  display: Display,
): string {
  if (highC - lowC < wideC) return temperature(celsius, display);
  const as = shown('Cel', display);
  return `${fixed(as.of(celsius), 0)} ${as.unit}`;
}
/** Of a share from 0 to 1; all and none are told only of what is all or none. */
export function percent(share: number): string {
  if (share > 0 && share < 0.005) return 'under 1 %';
  return share >= 0.995 && share < 1 ? 'over 99 %' : `${fixed(100 * share, 0)} %`;
}
export const weight = (kg: number, display: Display): string => reading(kg, 'kg', display);

/** A difference of weights: `−0.52 kg`, with its sign. */
export function weightChange(kg: number, display: Display): string {
  const words = weight(kg, display);
  return kg > 0 ? `+${words}` : words;
}

let grouped: Intl.NumberFormat | undefined;
export const wholeNumber = (value: number): string => {
  const whole = Math.round(value);
  return Math.abs(whole) < 1000 ? String(whole) : (grouped ??= new Intl.NumberFormat('en-GB')).format(whole);
};

/** `3.4 MB`. */
export function bytes(count: number): string {
  const units = ['B', 'kB', 'MB', 'GB', 'TB'];
  let value = count;
  let at = 0;
  while (value >= 1000 && at < units.length - 1) {
    value /= 1000;
    at += 1;
  }
  return `${fixed(value, at === 0 || value >= 100 ? 0 : 1)} ${units[at] ?? ''}`;
}

export const count = (n: number, one: string, many = `${one}s`): string =>
  `${wholeNumber(n)} ${n === 1 ? one : many}`;
