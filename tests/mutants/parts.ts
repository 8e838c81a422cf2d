/** What is mutated together: each part ends within twenty minutes on two idle cores. */
export interface Part {
  readonly name: string;
  /** Files to mutate, as globs from the top. */
  readonly files: readonly string[];
  /** Folders under `tests/` that judge it. */
  readonly judges: readonly string[];
}

const introduction = (...names: readonly string[]): readonly string[] =>
  names.map((name) => `server/introduction/${name}.ts`);
const judgesOfIntroduction = ['introduction', 'published'];

const engine = (...names: readonly string[]): readonly string[] =>
  names.map((name) => `server/rules/engine/${name}.ts`);

export const parts: readonly Part[] = [
  { name: 'biology', files: ['server/biology/*.ts'], judges: ['biology', 'introduction', 'published'] },
  {
    name: 'introduction-gates',
    files: introduction('acts/**/*', 'gates/*'),
    judges: judgesOfIntroduction,
  },
  {
    name: 'introduction-cells',
    files: introduction(
      'cell-*',
      'laying-chance',
      'looks',
      'loss',
      'miss-rate',
      'rival-seen',
      'standing-cells',
      'test-frame*',
      'thinning',
      'virgin-risk',
    ),
    judges: judgesOfIntroduction,
  },
  {
    name: 'introduction-log',
    files: introduction(
      'brood-*',
      'calendar',
      'carry-over',
      'contradictions',
      'effective-facts',
      'eggs-in-doubt',
      'evidence',
      'facts',
      'last-egg',
      'log-check',
      'move-distance',
      'population',
      'queen',
      'queen-state',
      'setup',
      'shown-queenless',
      'signs',
      'stage',
      'stage-words',
      'state',
      'windows',
    ),
    judges: judgesOfIntroduction,
  },
  {
    name: 'introduction-after',
    files: introduction(
      'after-acceptance',
      'batch',
      'calendar-feed',
      'candy',
      'earliest-look',
      'late-queen',
      'share-queens',
    ),
    judges: judgesOfIntroduction,
  },
  {
    name: 'introduction-plan',
    files: introduction('hive-visit', 'plan*'),
    judges: judgesOfIntroduction,
  },
  {
    name: 'rules-life-cycle',
    files: engine('alert-state', 'conditions', 'life-cycle', 'suppression', 'transition'),
    judges: ['rules'],
  },
  {
    name: 'rules-evaluation',
    files: engine(
      'evaluate',
      'history',
      'inputs',
      'keeper-acts',
      'limits',
      'replay',
      'rule',
      'stored-limits',
      'types',
    ),
    judges: ['rules'],
  },
];
