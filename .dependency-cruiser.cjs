/** Spans of time, in which every room of the server may count. */
const durations = '^server/durations\\.ts$';

/** Which room may import which: the arrows of DEVELOPERS.md, checked. */
const only = (name, from, allowed) => ({
  name,
  severity: 'error',
  comment: `${from} may import only: ${allowed.join(', ') || 'nothing of ours'}`,
  from: { path: from },
  to: {
    path: '^(server|ingest|dashboard|simulator|tests)/',
    pathNot: [from, ...(from.startsWith('^server/') ? [durations] : []), ...allowed],
  },
});

/** A folder of the introduction: the log is read first, then queen, brood and cells; acts, plan and gates rest on these. */
const insideIntroduction = (folder, ...below) =>
  only(`introduction-${folder}`, `^server/introduction/${folder}/`, [
    ...below.map((name) => `^server/introduction/${name}/`),
    '^server/introduction/calendar\\.ts$',
    '^server/(biology|words)/',
  ]);

module.exports = {
  forbidden: [
    { name: 'no-circles', severity: 'error', from: {}, to: { circular: true } },
    { name: 'resolvable', severity: 'error', from: {}, to: { couldNotResolve: true } },
    {
      name: 'no-dev-packages-in-production',
      severity: 'error',
      from: { path: '^(server|ingest|simulator)/', pathNot: '^server/packaging/' },
      to: { dependencyTypes: ['npm-dev'], pathNot: ['node_modules/@types/'] },
    },
    only('biology', '^server/biology/', []),
    only('words', '^server/words/', []),
    only('introduction', '^server/introduction/', ['^server/(biology|words)/', '^server/lazily\\.ts$']),
    insideIntroduction('log'),
    insideIntroduction('queen', 'log'),
    insideIntroduction('brood', 'log', 'queen'),
    insideIntroduction('cells', 'log', 'queen', 'brood'),
    only('introduction-acts', '^server/introduction/acts/', [
      '^server/introduction/([a-z-]+\\.ts$|(log|queen|brood|cells)/)',
      '^server/(biology|words)/',
      '^server/lazily\\.ts$',
    ]),
    only('signals', '^server/signals/', ['^server/(biology|words)/', '^server/lazily\\.ts$']),
    only('rules', '^server/rules/', ['^server/(signals|introduction|biology|words)/']),
    only('rules-engine', '^server/rules/engine/', [
      '^server/rules/catalogue/(registry|explanations)\\.ts$',
      '^server/(signals|introduction|biology|words)/',
    ]),
    only('durations', durations, []),
    only('units', '^server/units\\.ts$', []),
    only('lazily', '^server/lazily\\.ts$', []),
    only('json-text', '^server/json-text\\.ts$', []),
    only('user-error', '^server/user-error\\.ts$', []),
    only('process', '^server/process/', []),
    only('contract', '^server/contract/', [
      '^server/(introduction/log/(facts|hive-visit)|units|user-error)\\.ts$',
    ]),
    only('store', '^server/store/', [
      '^server/(biology|introduction|signals|rules)/',
      '^server/notify/delivery\\.ts$',
      '^server/process/young-part\\.ts$',
      '^server/(units|user-error)\\.ts$',
    ]),
    only('notify', '^server/notify/', [
      '^server/(rules|words)/',
      '^server/units\\.ts$',
      '^ingest/decode/own-topics\\.ts$',
    ]),
    only('ingest', '^ingest/', ['^server/store/(port|by-channel)\\.ts$', '^server/(json-text|units)\\.ts$']),
    only('farm', '^server/farm/', [
      '^server/(biology|words|introduction|contract|store)/',
      '^server/rules/engine/stored-limits\\.ts$',
      '^ingest/decode/',
      '^server/process/young-part\\.ts$',
      '^server/(group-by|units|user-error)\\.ts$',
    ]),
    only('forecast', '^server/forecast/', [
      '^server/(biology|introduction|signals|contract|store)/',
      '^server/notify/backoff\\.ts$',
      '^server/json-text\\.ts$',
    ]),
    only('watch', '^server/watch/', [
      '^server/(biology|words|introduction|signals|rules|store|farm|forecast)/',
      '^server/(group-by|lazily|units)\\.ts$',
    ]),
    only('views', '^server/views/', [
      '^server/(biology|words|introduction|signals|rules|store|farm|forecast|watch|contract)/',
      '^server/notify/sender\\.ts$',
      '^server/(group-by|units|user-error)\\.ts$',
    ]),
    only('service', '^server/service/', [
      '^server/(words|rules|store|notify|farm|forecast|watch|views)/',
      '^server/jobs/due\\.ts$',
    ]),
    only('http', '^server/http/', [
      '^server/(introduction|store|farm|views|contract)/',
      '^server/rules/engine/stored-limits\\.ts$',
      '^server/notify/recipient\\.ts$',
      '^server/(json-text|units|settings|user-error|plain-faults)\\.ts$',
      '^ingest/',
    ]),
    only('jobs', '^server/jobs/', ['^server/(store|farm)/']),
    {
      name: 'commands-know-no-http',
      severity: 'error',
      from: { path: '^server/commands/' },
      to: { path: '^server/http/' },
    },
    only('commands', '^server/commands/', ['^server/', '^simulator/']),
    {
      name: 'nobody-imports-commands',
      severity: 'error',
      from: { pathNot: '^(server/(commands/|(command|serve)\\.ts$)|tests/)' },
      to: { path: '^server/commands/' },
    },
    only('dashboard', '^dashboard/', ['^server/contract/']),
    only('simulator', '^simulator/', ['^server/units\\.ts$']),
    {
      name: 'nobody-imports-tests',
      severity: 'error',
      from: { pathNot: '^tests/' },
      to: { path: '^tests/' },
    },
    {
      name: 'only-store-speaks-sql',
      severity: 'error',
      from: { path: '^(server|ingest|simulator|dashboard)/', pathNot: '^server/store/' },
      to: { path: 'better-sqlite3' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^dist/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.tsx', '.js'],
      mainFields: ['module', 'main', 'types'],
      conditionNames: ['import', 'types', 'default'],
      exportsFields: ['exports'],
    },
  },
};
