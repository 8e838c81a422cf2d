/**
 * The field log: what a keeper writes down at the hive, as append-only facts.
 *
 * A fact is never changed; a `correction` names the fact that it replaces (or withdraws) and the fold
 * (`state.ts`) reads the log as if the right thing had been written at once. Every fact has the instant
 * at which it happened and the instant at which it was written. Ids are made by whoever writes
 * (a phone without signal makes them too), so that the same entry sent twice is stored once.
 */
import * as z from 'zod';

const count = (most: number, what: string) =>
  z
    .number()
    .int(`${what} is a whole number`)
    .min(0, `${what} can't be negative`)
    .max(most, `${what} can't be over ${String(most)}`);
/** Setting: the step in which keepers estimate frames. */
const quarter = 0.25;
/** Frames are estimated in quarters of a fully covered comb. */
const frames = (what: string) =>
  z
    .number()
    .min(0, `${what} can't be negative`)
    .max(12, `${what} can't be over 12 in a nuc`)
    .multipleOf(quarter, `${what} is estimated in quarters of a frame`);

export const startingPoints = [
  'planned-split',
  'queenless-with-cells',
  'hopelessly-queenless',
  'own-laying-queen',
  /** Not split: the old queen was found in it and taken away. */
  'requeened-in-place',
] as const;
export type StartingPoint = (typeof startingPoints)[number];

export const introductionMethods = ['candy-cage', 'push-in-cage'] as const;
export type IntroductionMethod = (typeof introductionMethods)[number];

export const youngestBroodKinds = [
  'eggs',
  'young-larvae',
  'old-larvae',
  'sealed-only',
  'none',
  'not-looked',
] as const;
export type YoungestBrood = (typeof youngestBroodKinds)[number];

/** Where eggs stand in their cells: a queen reaches the bottom, a worker often only the walls. */
export const eggPlaces = ['bottom', 'walls'] as const;
export type EggPlace = (typeof eggPlaces)[number];

export const temperaments = ['calm', 'nervous', 'hostile'] as const;
export const outcomes = [
  'accepted',
  'queen-lost',
  'queen-killed',
  'drone-layer',
  'superseded',
  'absconded',
  'united',
  'given-up',
] as const;
/** How bees behave on the cage: feeding and fanning, or biting, clinging and trying to sting. */
export const cageBehaviours = ['feeding', 'indifferent', 'biting'] as const;

/** Cells seen, by kind. `tornDown` and `emerged` are the empty ones. A kind that is left out was not counted. */
const cellCountsSchema = z
  .object({
    open: count(200, 'open cells').optional(),
    sealed: count(200, 'sealed cells').optional(),
    emerged: count(200, 'emerged cells').optional(),
    tornDown: count(200, 'torn-down cells').optional(),
  })
  .strict();
type CountedCells = z.infer<typeof cellCountsSchema>;
export type CellCounts = Readonly<Record<keyof CountedCells, number>>;

/** The counts, none where nobody counted. */
export const cellCounts = ({
  open = 0,
  sealed = 0,
  emerged = 0,
  tornDown = 0,
}: CountedCells): CellCounts => ({
  open,
  sealed,
  emerged,
  tornDown,
});

/** How complete a search for cells was: it counts as complete only with both. */
const search = {
  everyFrameChecked: z.boolean(),
  beesShakenOff: z.boolean(),
  /** Frames that were left out of a search that was not on every frame. */
  framesSkipped: count(12, 'frames skipped').optional(),
};

/** What is left out was not looked for; entries of before carry a false that was filled in, and keep it. */
const signs = {
  severalEggsACell: z.boolean().optional(),
  /** Left out where nobody looked. */
  eggsStand: z.enum(eggPlaces).optional(),
  droneBroodInWorkerCells: z.boolean().optional(),
  temperament: z.enum(temperaments).optional(),
};

/** Whether eggs stand anywhere but under the mesh that is over her; left out where nobody looked. */
const eggsOutsideMesh = z.boolean().optional();

const payloads = [
  z.object({
    kind: z.literal('split-made'),
    framesOfBees: frames('frames of bees'),
    framesOfSealedBrood: frames('frames of sealed brood'),
    framesOfOpenBrood: frames('frames of open brood'),
    framesOfStores: frames('frames of stores'),
    /** Where the old queen was seen; a planned split rests on this. */
    oldQueen: z.enum(['seen-in-parent', 'seen-in-split-and-moved', 'not-seen'], {
      error: 'say where the old queen was seen when the split was made, or that she was not seen',
    }),
    cellsAlreadyThere: z.enum(['none', 'present-and-removed', 'present-and-left', 'not-looked'], {
      error: 'say whether queen cells stood at the split already, or that nobody looked',
    }),
    /** How many of those were taken out. */
    cellsTakenOut: count(200, 'cells taken out').optional(),
  }),
  z.object({
    kind: z.literal('moved'),
    /** How far from its parent colony, or from where it stood before, it stands now: the last one counts. */
    metres: z.number().min(0).max(1_000_000),
    siteId: z.string().optional(),
  }),
  z.object({
    kind: z.literal('inspection'),
    youngestBrood: z.enum(youngestBroodKinds),
    cells: cellCountsSchema,
    ...search,
    ...signs,
    eggsOutsideMesh,
    framesOfBees: frames('frames of bees').optional(),
    virginSeen: z.boolean().optional(),
    /** A laying queen that walks free, not the caged one. */
    layingQueenSeen: z.boolean().optional(),
    /** Every cell that was seen was left standing (a look), unlike `cells-cut`. */
  }),
  z.object({
    kind: z.literal('cells-cut'),
    cells: cellCountsSchema,
    ...search,
    youngestBrood: z.enum(youngestBroodKinds).default('not-looked'),
    /** An open cell with a young larva in it: something rearable was there after all. */
    youngLarvaInOpenCell: z.boolean().default(false),
    virginSeen: z.boolean().optional(),
    ...signs,
    eggsOutsideMesh,
  }),
  z.object({
    kind: z.literal('brood-frame-added'),
    brood: z.enum(['eggs-or-young-larvae', 'old-larvae', 'sealed-only']),
    /** A test frame is taken out whole again after a day or two, bees shaken off. */
    asTestFrame: z.boolean().default(false),
  }),
  z.object({
    kind: z.literal('brood-frame-taken'),
    asTestFrame: z.boolean().default(false),
    /** On a test frame: cells started on it mean no queen. */
    cellsOnIt: count(200, 'cells on the frame').optional(),
  }),
  z.object({
    kind: z.literal('fed'),
    kilograms: z.number().min(0).max(20).optional(),
    feed: z.enum(['syrup', 'fondant', 'frame-of-stores', 'pollen']),
  }),
  z.object({
    kind: z.literal('queen-arrived'),
    queenId: z.string().min(1),
    condition: z.enum(['alive', 'weak', 'dead']),
    attendantsAlive: count(40, 'attendants').optional(),
    /** Where she comes from: imported cages and attendants may have to be handed in. */
    origin: z.enum(['own', 'same-country', 'abroad']).optional(),
    /** Days that she sat in her cage before she came. */
    daysInPost: count(30, 'days in the post').optional(),
  }),
  z.object({
    kind: z.literal('cage-hung'),
    queenId: z.string().min(1),
    candyEnd: z.enum(['closed', 'open']),
    /** Keepers differ; left out where nobody said. */
    attendants: z.enum(['in', 'taken-out']).optional(),
  }),
  z.object({
    kind: z.literal('cage-checked'),
    behaviour: z.enum(cageBehaviours),
    queenAlive: z.boolean(),
  }),
  z.object({
    kind: z.literal('cage-taken-out'),
    /** Where the queen was then: gone out with the cage, or walking on the comb. */
    queen: z.enum(['in-the-cage', 'left-in-nuc']).optional(),
    /** She went into another nuc: she is not at hand for this one any more. */
    forAnotherNuc: z.boolean().optional(),
  }),
  /**
   * A queen that walked free was found and taken away: the old one, a virgin, or a young one that the colony
   * raised and that lays. An old queen taken without a split begins the time without one.
   */
  z.object({
    kind: z.literal('queen-removed'),
    which: z.enum(['old-queen', 'virgin', 'young-queen']),
    /** Queen cells that stood when she was taken, as at a split. */
    cellsAlreadyThere: z.enum(['none', 'present-and-removed', 'present-and-left', 'not-looked']).optional(),
    cellsTakenOut: count(200, 'cells taken out').optional(),
  }),
  /** The queen got out of her cage, or out of the hand, without being let out. */
  z.object({ kind: z.literal('queen-escaped'), to: z.enum(['into-the-nuc', 'outside', 'not-known']) }),
  z.object({
    kind: z.literal('candy-opened'),
    plug: z.enum(['whole', 'pushed-back']),
    behaviour: z.enum(cageBehaviours).optional(),
  }),
  z.object({
    kind: z.literal('looked-for-queen'),
    cageEmpty: z.boolean(),
    queenSeen: z.boolean(),
    eggsSeen: z.boolean(),
    sealedWorkerBroodSeen: z.boolean().default(false),
    cells: cellCountsSchema,
    /** Every living cell that was seen was taken down. */
    cellsTakenDown: z.boolean().optional(),
    behaviour: z.enum(['calm', 'nervous', 'hostile']),
    ...signs,
  }),
  z.object({ kind: z.literal('balled'), rescued: z.boolean() }),
  z.object({ kind: z.literal('queen-dead') }),
  z.object({
    kind: z.literal('gate-overridden'),
    gate: z.enum(['cut-cells', 'hang-cage', 'open-candy', 'look-for-queen']),
    reason: z.string().min(3, 'say why in a few words').max(500),
  }),
  /** Nothing that may be done rests on it: the inspector decides. */
  z.object({ kind: z.literal('brood-disease'), found: z.enum(['signs', 'ruled-out']) }),
  z.object({
    kind: z.literal('outcome'),
    outcome: z.enum(outcomes),
  }),
  /** Larvae of the accepted queen were grafted. */
  z.object({ kind: z.literal('grafted'), larvae: count(400, 'grafted larvae') }),
  z.object({ kind: z.literal('note') }),
] as const;

export const factPayloadSchema = z.discriminatedUnion('kind', payloads);
export type FactPayload = z.infer<typeof factPayloadSchema>;
export type FactKind = FactPayload['kind'];

const idSchema = z
  .string()
  .min(8)
  .max(64)
  .regex(/^[A-Za-z0-9_-]+$/, 'letters, digits, - and _ only');

/** Setting: times outside of this are no clock’s, and their calendars take long or have no end. */
const instants = { firstMs: 0, lastMs: Date.UTC(2200, 0, 1) };
export const isInstant = (atMs: number): boolean => atMs >= instants.firstMs && atMs <= instants.lastMs;
const instantSchema = z
  .number()
  .int()
  .min(instants.firstMs, 'a time from 1970 on is wanted, in milliseconds since 1970')
  .max(instants.lastMs, 'a time before 2200 is wanted, in milliseconds since 1970');

const envelope = {
  id: idSchema,
  introductionId: idSchema,
  happenedAtMs: instantSchema,
  writtenAtMs: instantSchema,
  /** Who wrote it: the person who was signed in, or the API token. */
  by: z.string().max(300).optional(),
  /** Who saw or did it, where that is somebody else. */
  onBehalfOf: z.string().max(300).optional(),
  note: z.string().max(4000).optional(),
};

export const observationSchema = z.object({ ...envelope, type: z.literal('fact'), fact: factPayloadSchema });

/** Replaces the named fact (`replacement`), moves it to another introduction (`moveTo`), or withdraws it (neither). */
export const correctionSchema = z.object({
  ...envelope,
  type: z.literal('correction'),
  corrects: idSchema,
  replacement: factPayloadSchema.optional(),
  replacementHappenedAtMs: instantSchema.optional(),
  moveTo: idSchema.optional(),
});

export const logEntrySchema = z.discriminatedUnion('type', [observationSchema, correctionSchema]);
export type Observation = z.infer<typeof observationSchema>;
export type Correction = z.infer<typeof correctionSchema>;
export type LogEntry = z.infer<typeof logEntrySchema>;
