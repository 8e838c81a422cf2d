/** Every operation of the contract, over real HTTP: its answer is what the contract says. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Operation, OperationName } from '../../server/contract/index.ts';
import { operations } from '../../server/contract/index.ts';
import type { TestServer } from './support/server.ts';
import { cookieFrom, furnish, nowMs, passwordOf, person, send, startServer } from './support/server.ts';

const at = (ms: number): string => new Date(ms).toISOString();
const site = { name: 'Hill', timeZone: 'Europe/Berlin', latDeg: 51, lonDeg: 9 };
const batch = { name: 'June', siteId: 's1', nucs: 2, namePrefix: 'J', by: 'split', splitOn: '2031-06-01' };
const arrival = { name: 'First parcel', source: 'Line 7', expected: '2031-05-20', queens: 6 };
const entry = {
  type: 'fact',
  id: 'entry-000001',
  introductionId: 'intro-000001',
  happenedAtMs: nowMs - 3_600_000,
  writtenAtMs: nowMs,
  fact: {
    kind: 'split-made',
    framesOfBees: 3,
    framesOfSealedBrood: 1,
    framesOfOpenBrood: 0.5,
    framesOfStores: 1,
    oldQueen: 'seen-in-parent',
    cellsAlreadyThere: 'none',
  },
};
const mapping = {
  name: 'Shed',
  mapping: {
    topic: 'shed/+sensor/state',
    sensor: { level: 'sensor' },
    values: [{ quantity: 'weight', pointer: '/kg' }],
  },
};
const tell = {
  name: 'Mail',
  kind: 'mail',
  address: 'smtp://mail.example/keeper@farm.example',
  secret: 'hush',
};

/** In order: later rows use what earlier ones made. `{…}` are path parameters, then a query. */
const calls: readonly (readonly [OperationName, string, unknown?])[] = [
  ['me', '/me'],
  ['listSites', '/sites'],
  ['addSite', '/sites', { id: 's2', ...site }],
  ['changeSite', '/sites/s2', { ...site, note: 'Gate on the left' }],
  ['listNucs', '/nucs'],
  ['getNuc', '/nucs/n1'],
  ['getNucChart', '/nucs/n1/chart?pixels=400'],
  ['listHives', '/hives'],
  ['addHive', '/hives', { id: 'n2', name: 'Nuc 2', siteId: 's1', emptyKg: 6.5 }],
  ['changeHive', '/hives/n2', { name: 'Nuc two', retired: true }],
  [
    'openIntroduction',
    '/nucs/n2/introductions',
    { id: 'intro-000002', startingPoint: 'planned-split', method: 'candy-cage', plannedSplit: at(nowMs) },
  ],
  ['changeIntroduction', '/introductions/intro-000002', { plannedSplit: '2031-05-20' }],
  ['listIntroductions', '/nucs/n2/introductions'],
  ['postLog', '/log', { entries: [entry] }],
  ['logHiveVisit', '/hives/n2/visits', { id: 'visit-0001', kind: 'fed', note: 'a litre' }],
  ['listHiveVisits', '/hives/n2/visits'],
  ['withdrawHiveVisit', '/hives/n2/visits/visit-0001'],
  ['listChannels', '/channels'],
  ['getReadings', '/channels/1/readings?resolution=raw&limit=10'],
  ['addCalibration', '/channels/1/calibrations', { kind: 'offset', from: at(nowMs), add: 0.25 }],
  ['listCalibrations', '/channels/1/calibrations'],
  ['assign', '/assignments', { channelId: 1, hiveId: 'n1', place: 'scale', from: at(nowMs - 1000) }],
  ['changeAssignment', '/assignments/1', { to: at(nowMs) }],
  ['forgetChannels', '/channels/forget', { ids: [999] }],
  ['listQuarantine', '/quarantine'],
  ['dropQuarantined', '/quarantine/1'],
  ['putMapping', '/mappings/shed', mapping],
  ['listMappings', '/mappings'],
  ['importMappings', '/mappings/import', { format: 'welcomb-mappings', version: 1, mappings: [] }],
  ['tryMapping', '/mappings/try', { mapping: mapping.mapping, topic: 'shed/s7/state', payload: '{"kg":12}' }],
  ['deleteMapping', '/mappings/shed'],
  ['addDevice', '/devices', { name: 'scale-1', password: 'long enough' }],
  ['listDevices', '/devices'],
  ['deleteDevice', '/devices/scale-1'],
  ['listAlerts', '/alerts?state=all'],
  ['actOnAlert', `/alerts/${encodeURIComponent('brood-chilling:nuc:n1')}/actions`, { action: 'seen' }],
  ['listEvaluations', '/nucs/n1/evaluations'],
  ['addArrival', '/arrivals', { id: 'a1', ...arrival }],
  ['changeArrival', '/arrivals/a1', { ...arrival, state: 'delayed' }],
  ['listArrivals', '/arrivals'],
  ['getPlan', '/plan?from=2031-05-01&to=2031-06-01'],
  ['getQueens', '/plan/queens'],
  ['previewBatch', '/plan/preview', batch],
  ['createBatch', '/plan/batches', batch],
  ['undoBatch', '/plan/batches/undo', { nucIds: ['not-there'] }],
  ['setUnavailable', '/plan/unavailable', { days: ['2031-05-12', '2031-05-11', '2031-05-12'] }],
  ['calendarLink', '/plan/calendar-link'],
  ['reviewBatch', '/review/batch?alignedOn=release'],
  ['outcomes', '/review/outcomes?by=method'],
  ['replay', '/review/replay', { nucId: 'n1', from: at(nowMs - 1000), to: at(nowMs) }],
  ['getFarm', '/settings/farm'],
  ['putFarm', '/settings/farm', { farmName: 'Hillside', rawKeepDays: 400 }],
  ['listLimits', '/settings/limits?nuc=n1'],
  ['putLimit', '/settings/limits', { scope: 'farm', ruleId: 'brood-chilling', field: 'limitC', value: 31 }],
  ['listChanges', '/settings/changes'],
  ['putTelling', '/settings/tellings/mail', tell],
  ['listTellings', '/settings/tellings'],
  ['tryTelling', '/settings/tellings/mail/try'],
  ['deleteTelling', '/settings/tellings/mail'],
  ['pushKey', '/settings/push-key'],
  ['addPerson', '/people', { name: 'Ash', role: 'helper', password: passwordOf('Ash') }],
  ['listPeople', '/people'],
  ['addToken', '/tokens', { name: 'script', scope: 'read' }],
  ['listTokens', '/tokens'],
  ['audit', '/audit'],
  ['status', '/status'],
  ['backupNow', '/backup'],
  ['listRestorable', '/restore'],
];

let server: TestServer;
let cookie = '';
const api = (path: string): string => `${server.url}/api/v1${path}`;
const call = (name: OperationName, path: string, body?: unknown): Promise<Response> =>
  send(api(path), operations[name].method.toUpperCase(), body, { Cookie: cookie, Origin: server.url });

beforeAll(async () => {
  server = await startServer();
  furnish(server);
  await person(server, 'Rowan', 'keeper');
  const answer = await send(api('/session'), 'POST', { name: 'Rowan', password: passwordOf('Rowan') });
  cookie = cookieFrom(answer) ?? '';
});
afterAll(() => server.stop());

describe('each operation answers as the contract says', () => {
  it.each(calls.map(([name, path, body]) => ({ name, path, body })))(
    '$name',
    async ({ name, path, body }) => {
      const operation: Operation = operations[name];
      const answer = await call(name, path, body);
      const text = await answer.text();
      expect(answer.status, text).toBe(operation.response ? 200 : 204);
      expect(answer.headers.get('cache-control')).toBe('no-store');
      if (operation.response) {
        expect(answer.headers.get('content-type')).toBe('application/json; charset=utf-8');
        // As it came over the wire, and with nothing in it that the contract does not name.
        const parsed = operation.response.safeParse(JSON.parse(text));
        expect(parsed.error?.message).toBeUndefined();
        expect(parsed.data).toEqual(JSON.parse(text));
      } else expect(text).toBe('');
    },
  );

  it('is tried for every operation; those about passwords, and the one that ends the server, have tests of their own', () => {
    const tried = new Set<OperationName>(calls.map(([name]) => name));
    const elsewhere: OperationName[] = [
      'setPassword',
      'changePassword',
      'signIn',
      'signOut',
      'deletePerson',
      'deleteToken',
      'lookAtBackup',
      'restoreBackup',
    ];
    const missing = (Object.keys(operations) as OperationName[]).filter((name) => !tried.has(name));
    expect(missing.sort()).toEqual(elsewhere.sort());
  });
});

describe('what the calls left behind', () => {
  it('noted who changed what, and nothing that only asked', () => {
    const whats = server.store.people.audit(1000).map((line) => line.what);
    expect(whats).toContain('Add a site (POST /sites)');
    expect(whats).toContain('Make an API key (POST /tokens)');
    expect(whats).toContain('Shut a device out (DELETE /devices/scale-1)');
    expect(whats.join('\n')).not.toMatch(/GET|preview|mappings\/try|replay|calendar-link/);
    expect(new Set(server.store.people.audit(1000).map((line) => line.who))).toEqual(new Set(['Rowan']));
  });

  it('told the ingest about calibrations, mappings and devices', () => {
    expect(server.ingest.told).toEqual([
      'calibrated scale-1',
      // After channels were forgotten.
      'calibrated scale-1',
      'mappings Shed',
      'mappings Shed',
      'mappings ',
      'devices scale-1',
      'devices ',
    ]);
  });

  it('told the analysis what to look at again', () => {
    expect(server.views.told).toContain('log intro-000001');
    expect(server.views.told).toContain('log intro-000002');
    const setups = server.views.told.filter((one) => one.startsWith('setup'));
    expect(setups).toEqual([
      'setup of s2',
      'setup of s2',
      'setup of n2',
      'setup of n2',
      // Its introduction was changed.
      'setup of n2',
      // A sensor that stands nowhere was calibrated, then assigned, then moved.
      'setup of ',
      'setup of n1',
      'setup of n1',
      // Sensors were forgotten, a delivery added and changed.
      'setup of everything',
      'setup of everything',
      'setup of everything',
      // A batch was undone.
      'setup of not-there',
      // Days without time for the bees, and the farm's settings.
      'setup of everything',
      'setup of everything',
    ]);
  });

  it('tells changes of settings in words, and no secret', async () => {
    const { items } = (await (await call('listChanges', '/settings/changes')).json()) as {
      items: { by: string; what: string }[];
    };
    expect(items).toContainEqual(
      expect.objectContaining({
        by: 'Rowan',
        what: expect.stringMatching(/^farm: nothing → .*"rawKeepDays":400/),
      }),
    );
    expect(JSON.stringify(items)).not.toMatch(/hush|calendar-key/);
    expect(items.some((item) => item.what === 'telling/mail changed')).toBe(true);
  });
});
