/** A biological or physical constant: value, spread, unit and where it comes from. */
export interface Figure {
  readonly value: number;
  readonly low?: number;
  readonly high?: number;
  readonly unit: string;
  readonly source: string;
  readonly basis: string;
}
