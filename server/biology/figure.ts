/** A biological or physical constant: value, spread, unit and where it comes from. */
export interface Figure {
  readonly value: number;
  readonly low?: number;
  readonly high?: number;
  readonly unit: string;
  readonly source: string;
  /** How the value is known; the source says by whom. */
  readonly basis: Basis;
  /** What it stands for, where the name alone does not say it. */
  readonly note?: string;
}

/**
 * - `published`: the figure stood in a text that was read;
 * - `seen-quoted`: another text quotes the source for it;
 * - `derived`: arithmetic from other figures;
 * - `common-practice`: a rule that practitioners state, without a source;
 * - `from-memory`: known, but no source could be read;
 * - `assumed`: nobody states it; ours, so that something can be reckoned with.
 */
export type Basis = 'published' | 'seen-quoted' | 'derived' | 'common-practice' | 'from-memory' | 'assumed';

/** A figure that nobody states. */
export const assumed = (value: number, unit: string, note: string, low?: number, high?: number): Figure => ({
  value,
  ...(low === undefined ? {} : { low }),
  ...(high === undefined ? {} : { high }),
  unit,
  note,
  source: `nobody states it: ${note}`,
  basis: 'assumed',
});

/** The ends of a figure's spread; its value where no spread is known. */
export const lowEnd = ({ low, value }: Figure): number => low ?? value;
export const highEnd = ({ high, value }: Figure): number => high ?? value;
