/** What is mutated together: each part ends within twenty minutes on two idle cores. */
export interface Part {
  readonly name: string;
  /** Files to mutate, as globs from the top. */
  readonly files: readonly string[];
  /** Folders and files under `tests/` that judge it. */
  readonly judges: readonly string[];
}

const introduction = (name: string, ...files: readonly string[]): Part => ({
  name,
  files: files.map((file) => `server/introduction/${file}.ts`),
  judges: ['introduction', 'published'],
});

/** Every test of a nuc counts its cells: with all of them a change would take ten seconds. Those that are about cells judge. */
const cells = (name: string, ...others: readonly string[]): Part => ({
  name: `introduction-${name}`,
  files: [`server/introduction/cells/${name}.ts`],
  judges: [
    'introduction/cell-fates.test.ts',
    'introduction/cell-figures.test.ts',
    'introduction/cell-likelihood.test.ts',
    'introduction/cut-cells.test.ts',
    'introduction/looks.test.ts',
    'introduction/looks-after-cut.test.ts',
    'introduction/miss-rate.test.ts',
    'introduction/rival-seen.test.ts',
    'introduction/missed-cells-condition.test.ts',
    'introduction/thinning.test.ts',
    'introduction/virgin-risk.test.ts',
    'published/cells-removal.test.ts',
    ...others,
  ],
});

const engine = (...names: readonly string[]): readonly string[] =>
  names.map((name) => `server/rules/engine/${name}.ts`);

export const parts: readonly Part[] = [
  { name: 'biology', files: ['server/biology/*.ts'], judges: ['biology', 'introduction', 'published'] },
  introduction(
    'introduction-state',
    'calendar',
    'carry-over',
    'log/move-distance',
    'population',
    'log/setup',
    'state',
    'brood/windows',
  ),
  introduction(
    'introduction-evidence',
    'log/effective-facts',
    'brood/evidence',
    'log/facts',
    'brood/without-brood',
  ),
  introduction('introduction-check', 'log/contradictions', 'log/deaths', 'log/log-check'),
  introduction('introduction-brood', 'brood/brood-*', 'brood/eggs-in-doubt', 'brood/last-egg'),
  introduction('introduction-queen', 'queen/queen', 'queen/queen-state', 'queen/what-looks-tell'),
  introduction('introduction-signs', 'brood/shown-queenless', 'log/signs'),
  introduction('introduction-stage', 'stage', 'stage-words'),
  cells('cell-fates'),
  cells('cell-likelihood'),
  cells(
    'cell-waves',
    'introduction/cell-record.test.ts',
    'introduction/early-cut.test.ts',
    'introduction/gate-stories.test.ts',
    'introduction/open-candy.test.ts',
    'introduction/stories.test.ts',
  ),
  cells('thinning'),
  introduction('introduction-looks', 'brood/laying-chance', 'log/looks', 'miss-rate', 'cells/standing-cells'),
  introduction('introduction-virgin', 'log/loss', 'cells/rival-seen', 'cells/virgin-risk'),
  introduction('introduction-test-frame', 'acts/days/test-frame-plan', 'log/test-frames'),
  introduction('introduction-plan', 'acts/days/plan-*', 'acts/plan-step', 'log/hive-visit', 'plan/plan'),
  introduction(
    'introduction-after',
    'after-acceptance',
    'plan/batch',
    'plan/calendar-feed',
    'queen/candy',
    'queen/earliest-look',
    'queen/let-out-by-hand',
  ),
  introduction(
    'introduction-late-queen',
    'acts/days/awaited-queen',
    'acts/days/late-queen',
    'plan/share-queens',
  ),
  introduction(
    'acts-answer',
    'acts/act',
    'acts/answer',
    'acts/condition',
    'acts/draft',
    'acts/gate',
    'acts/good-to-know',
    'acts/move-condition',
    'acts/situation',
    'acts/starts',
    'acts/table',
    'acts/words',
  ),
  introduction('acts-conditions', 'acts/common-conditions', 'acts/hive-signs', 'acts/missed-cells-condition'),
  introduction('acts-after-release', 'acts/rows/after-release', 'acts/rows/her-brood'),
  introduction(
    'acts-beginning',
    'acts/rows/beginning',
    'acts/rows/disease',
    'acts/rows/remedies',
    'acts/rows/test-frame',
    'acts/rows/until-then',
  ),
  introduction('acts-cage', 'acts/frames-of-bees', 'acts/rows/cage', 'acts/rows/hang-window'),
  introduction('acts-cuts', 'acts/rows/cuts', 'acts/rows/looks-after-cut'),
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
    files: engine('alert-state', 'conditions', 'life-cycle', 'outage', 'suppression', 'transition'),
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
