/** What every GET of the contract answers, by what was asked. */
import { operations, type OperationName, type ResponseOf } from '../../server/contract/index.ts';
import { dayMs, iso, nowMs, type Server } from './leaving-farm.ts';

/** What belongs to one server and not to the farm. Everything else that answers a GET is compared. */
const ofTheServer: Partial<Record<OperationName, string>> = {
  me: 'who is signed in',
  listDevices: 'passwords do not leave: devices are added again',
  listTellings: 'addresses and secrets do not leave: notifications are set up again',
  listPeople: 'passwords do not leave: people are added again',
  listTokens: 'tokens do not leave: they are made again',
  audit: 'who did what on this server; it says that a file was taken in',
  listChanges: 'who changed what on this server',
  status: 'memory, disk, broker, when it was started',
  listRestorable: 'the backups in its folder',
};

export type Answers = ReadonlyMap<string, unknown>;

/** Every answer to a GET of a page, by what was asked; a channel by its name and not by its number. */
export async function answersOf({ send, http }: Server): Promise<Answers> {
  const answers = new Map<string, unknown>();
  const channels = (await send<ResponseOf<'listChannels'>>('GET', 'channels')).items;
  const nameOf = new Map(
    channels.map(({ id, sensor, quantity, probe, unit }) => [id, [sensor, quantity, probe, unit].join(' ')]),
  );
  const { items: allHives } = await send<ResponseOf<'listHives'>>('GET', 'hives');
  const hives = allHives.map(({ id }) => id);
  const nucs = allHives
    .filter(({ role, retiredAt }) => role === 'nuc' && retiredAt === undefined)
    .map(({ id }) => id);
  const sites = (await send<ResponseOf<'listSites'>>('GET', 'sites')).items.map(({ id }) => id);
  const ofHives = hives.map((id) => ({ id }));
  const ofNucs = nucs.map((id) => ({ id }));
  const ofChannels = channels.map(({ id }) => ({ id: String(id) }));
  const back = (days: number): string => iso(nowMs - days * dayMs);
  const asked: Partial<
    Record<
      OperationName,
      { readonly params?: readonly { id: string }[]; readonly queries?: readonly string[] }
    >
  > = {
    getNuc: { params: ofNucs },
    getNucChart: { params: ofNucs, queries: ['pixels=400', `pixels=1200&from=${back(20)}&suspect=true`] },
    listHiveVisits: { params: ofHives },
    listIntroductions: { params: ofNucs },
    getReadings: {
      params: ofChannels,
      queries: [
        'resolution=raw&suspect=true&limit=100000',
        'resolution=hour',
        'resolution=day',
        'resolution=auto',
        'resolution=raw&calibrated=false',
      ],
    },
    listCalibrations: { params: ofChannels },
    listEvaluations: { params: ofNucs },
    listAlerts: {
      queries: [
        'state=open',
        'state=all&limit=500',
        'state=holding',
        ...nucs.map((id) => `state=all&nuc=${id}&limit=100`),
      ],
    },
    listLimits: { queries: ['', ...sites.map((id) => `site=${id}`), ...nucs.map((id) => `nuc=${id}`)] },
    reviewBatch: {
      queries: [
        '',
        ...['split', 'release'].flatMap((on) =>
          ['night-weight', 'brood-temperature', 'brood-spread'].map(
            (what) => `alignedOn=${on}&quantity=${what}`,
          ),
        ),
      ],
    },
    getPlan: { queries: ['', 'back=30&ahead=60'] },
    listNucs: { queries: ['', 'traces=false'] },
    outcomes: {
      queries: ['source', 'method', 'strength', 'season', 'starting-point'].map((by) => `by=${by}`),
    },
  };
  for (const [name, operation] of Object.entries(operations) as [
    OperationName,
    (typeof operations)[OperationName],
  ][]) {
    if (operation.method !== 'get' || ofTheServer[name] !== undefined) continue;
    for (const params of asked[name]?.params ?? [{ id: '' }]) {
      for (const query of asked[name]?.queries ?? ['']) {
        const path = operation.path.slice(1).replace('{id}', params.id);
        const shown = operation.path.startsWith('/channels/')
          ? path.replace(params.id, nameOf.get(Number(params.id)) ?? '')
          : path;
        answers.set(`${shown}?${query}`, withoutNumbers(await send('GET', `${path}?${query}`), nameOf));
      }
    }
  }
  for (const path of ['export/log.csv', 'export/outcomes.csv']) answers.set(path, await send('GET', path));
  const { path } = await send<{ path: string }>('POST', 'plan/calendar-link');
  answers.set('the calendar feed', await (await fetch(new URL(path, http))).text());
  return answers;
}

/** Numbers of rows are the database's own: no page shows them. */
function withoutNumbers(value: unknown, nameOf: ReadonlyMap<number, string>): unknown {
  if (Array.isArray(value)) return value.map((one) => withoutNumbers(one, nameOf));
  if (typeof value === 'string')
    return value.replace(/(?<=\/channel\/)\d+(?=\/)/, (id) => nameOf.get(Number(id)) ?? id);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, one]) => {
      if (key === 'id' && typeof one === 'number') return [];
      if (key === 'id' && 'kind' in value && value.kind === 'channel')
        return [[key, nameOf.get(Number(one))]];
      if (key === 'channelId' && typeof one === 'number') return [[key, nameOf.get(one)]];
      return [[key, withoutNumbers(one, nameOf)]];
    }),
  );
}
