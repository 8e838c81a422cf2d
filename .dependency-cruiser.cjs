/** Which room may import which: the arrows of DEVELOPERS.md, checked. */
const only = (name, from, allowed) => ({
  name,
  severity: 'error',
  comment: `${from} may import only: ${allowed.join(', ') || 'nothing of ours'}`,
  from: { path: from },
  to: { path: '^(server|ingest|dashboard|simulator|tests)/', pathNot: [from, ...allowed] },
});

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
    only('introduction', '^server/introduction/', ['^server/biology/']),
    only('signals', '^server/signals/', ['^server/biology/']),
    only('rules', '^server/rules/', ['^server/signals/', '^server/introduction/', '^server/biology/']),
    only('units', '^server/units\\.ts$', []),
    only('store', '^server/store/', [
      '^server/(biology|introduction|signals|rules)/',
      '^server/notify/delivery\\.ts$',
      '^server/units\\.ts$',
    ]),
    only('notify', '^server/notify/', ['^server/rules/', '^server/units\\.ts$']),
    only('ingest', '^ingest/', ['^server/store/(port|by-channel)\\.ts$', '^server/units\\.ts$']),
    only('overview', '^server/overview/', [
      '^server/(biology|introduction|signals|rules|store|notify)/',
      '^server/jobs/due\\.ts$',
      '^server/http/(contract/|(deps|events-hub|farm|people|problem|views|wire)\\.ts$)',
      '^server/units\\.ts$',
    ]),
    only('http', '^server/http/', [
      '^server/(biology|introduction|signals|rules|store|notify)/',
      '^server/(units|settings)\\.ts$',
      '^ingest/',
    ]),
    only('jobs', '^server/jobs/', [
      '^server/http/farm\\.ts$',
      '^server/(biology|introduction|signals|rules|store|notify)/',
      '^server/(units|settings)\\.ts$',
      '^ingest/',
    ]),
    only('commands', '^server/commands/', ['^server/', '^simulator/']),
    {
      name: 'nobody-imports-commands',
      severity: 'error',
      from: { pathNot: '^(server/(commands/|(command|serve)\\.ts$)|tests/)' },
      to: { path: '^server/commands/' },
    },
    only('dashboard', '^dashboard/', ['^server/http/contract/']),
    only('contract', '^server/http/contract/', ['^server/(introduction/facts|units)\\.ts$']),
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
