/** What happens to a nuc from outside the model's flow: visits, feeds, knocks, thieves, and the queen's own dates. */

export type VisitPurpose =
  | 'move'
  | 'hang-cage'
  | 'cut-cells'
  | 'open-candy'
  | 'look'
  | 'look-in-hands-off'
  | 'handle';

/** Happenings that the model carries out. Masses in grams, instants in ms. */
export type Happening =
  /** The lid is off from `atMs` for `minutes`; afterwards the box weighs `netG` more or less. */
  | {
      readonly kind: 'visit';
      readonly atMs: number;
      readonly minutes: number;
      readonly purpose: VisitPurpose;
      readonly netG: number;
    }
  /** Put on or taken off without opening: feed, a stone on the lid. */
  | {
      readonly kind: 'load-changed';
      readonly atMs: number;
      readonly netG: number;
      readonly feed: boolean;
      /** Share of a feed that is water and dries off in the days after; none in candy. */
      readonly waterShare?: number;
    }
  /** Off the scale for some minutes, back with the scale's zero moved by `zeroG`. */
  | { readonly kind: 'lifted'; readonly atMs: number; readonly minutes: number; readonly zeroG: number }
  | { readonly kind: 'toppled'; readonly atMs: number; readonly untilMs: number }
  | { readonly kind: 'stolen'; readonly atMs: number }
  | { readonly kind: 'absconded'; readonly atMs: number; readonly minutes: number; readonly share: number }
  | {
      readonly kind: 'robbed';
      readonly atMs: number;
      readonly untilMs: number;
      /** Honey carried off an hour in full flight. */
      readonly gPerHour: number;
    }
  /** Bees of other colonies that fly in and stay. */
  | {
      readonly kind: 'drifted-in';
      readonly atMs: number;
      readonly untilMs: number;
      readonly beesPerFlightHour: number;
    }
  | { readonly kind: 'queen-laying'; readonly atMs: number }
  | { readonly kind: 'laying-stopped'; readonly atMs: number };

export type TrueEventKind =
  | 'split'
  | 'opened'
  | 'added'
  | 'taken'
  | 'lifted'
  | 'toppled'
  | 'stolen'
  | 'absconded'
  | 'robbed'
  | 'drifted-in'
  | 'cage-hung'
  | 'cells-cut'
  | 'candy-opened'
  | 'queen-released'
  | 'queen-laying'
  | 'queen-killed'
  | 'virgin-emerged'
  | 'stores-empty'
  | 'sensor-failed'
  | 'gateway-off';

/** Something that truly happened. `sizeG` is the lasting change of what the scale carries. */
export interface TrueEvent {
  readonly atMs: number;
  readonly kind: TrueEventKind;
  readonly untilMs?: number;
  readonly sizeG?: number;
  readonly note?: string;
}
