/** What is mutated together: each part ends within twenty minutes on two idle cores. */
export interface Part {
  readonly name: string;
  /** Files to mutate, as globs from the top. */
  readonly files: readonly string[];
  /** Folders under `tests/` that judge it. */
  readonly judges: readonly string[];
}

const introduction = (name: string, ...files: readonly string[]): Part => ({
  name,
  files: files.map((file) => `server/introduction/${file}.ts`),
  judges: ['introduction', 'published'],
});

const engine = (...names: readonly string[]): readonly string[] =>
  names.map((name) => `server/rules/engine/${name}.ts`);

export const parts: readonly Part[] = [
  { name: 'biology', files: ['server/biology/*.ts'], judges: ['biology', 'introduction', 'published'] },
  introduction(
    'introduction-state',
    'calendar',
    'carry-over',
    'move-distance',
    'population',
    'setup',
    'state',
    'windows',
  ),
  introduction('introduction-evidence', 'effective-facts', 'evidence', 'facts'),
  introduction('introduction-check', 'contradictions', 'log-check'),
  introduction('introduction-brood', 'brood-*', 'eggs-in-doubt', 'last-egg'),
  introduction('introduction-queen', 'queen', 'queen-state'),
  introduction('introduction-signs', 'shown-queenless', 'signs'),
  introduction('introduction-stage', 'stage', 'stage-words'),
  introduction('introduction-cells', 'cell-fates', 'cell-likelihood'),
  introduction('introduction-waves', 'cell-waves', 'thinning'),
  introduction('introduction-looks', 'laying-chance', 'looks', 'miss-rate', 'standing-cells'),
  introduction('introduction-virgin', 'loss', 'rival-seen', 'virgin-risk'),
  introduction('introduction-test-frame', 'test-frame*'),
  introduction('introduction-plan', 'hive-visit', 'plan*'),
  introduction('introduction-after', 'after-acceptance', 'batch', 'calendar-feed', 'candy', 'earliest-look'),
  introduction('introduction-late-queen', 'late-queen', 'share-queens'),
  introduction(
    'acts-answer',
    'acts/act',
    'acts/answer',
    'acts/condition',
    'acts/draft',
    'acts/good-to-know',
    'acts/lazy',
    'acts/situation',
    'acts/starts',
    'acts/table',
    'acts/words',
  ),
  introduction('acts-conditions', 'acts/common-conditions', 'acts/sure-cuts'),
  introduction('acts-after-release', 'acts/rows/after-release', 'acts/rows/her-brood'),
  introduction(
    'acts-beginning',
    'acts/rows/beginning',
    'acts/rows/remedies',
    'acts/rows/test-frame',
    'acts/rows/until-then',
  ),
  introduction('acts-cage', 'acts/rows/cage', 'acts/rows/hang-window'),
  introduction('acts-cuts', 'acts/rows/cuts'),
  introduction(
    'acts-hang',
    'acts/rows/hang-conditions',
    'acts/rows/let-out-early',
    'acts/rows/loose-queen-conditions',
  ),
  introduction('acts-open', 'acts/rows/cut-conditions', 'acts/rows/open-conditions'),
  introduction('acts-look', 'acts/rows/look-conditions', 'acts/rows/worker-conditions', 'gates/*'),
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
