/** The farm's things as the pages share them. */
import { effect } from '@preact/signals';
import { call } from '../api/client.ts';
import { askedNow, awaited, detailWithout, noteChange, planWithout, summaryWithout } from './awaited.ts';
import { onLive } from './live.ts';
import type { Change } from './resource.ts';
import { changed, resource, resourceFamily } from './resource.ts';
import { newestOf, withReading } from './with-reading.ts';

const by = (...types: Change['type'][]) => ({ changedBy: ({ type }: Change) => types.includes(type) });

export const sites = resource(() => call('listSites', {}), by('nuc'));
export const hives = resource(() => call('listHives', {}), by('nuc'));
/** Without the traces: a long season's nights and hours of thirty nucs are not needed for a list. */
export const nucs = resource(
  async () => {
    const isOld = askedNow();
    const list = await call('listNucs', { query: { traces: 'false' } });
    return { ...list, items: list.items.map((one) => summaryWithout(one, isOld)) };
  },
  by('nuc', 'alert'),
);
const fetchNuc = async (id: string) => {
  const isOld = askedNow();
  return detailWithout(await call('getNuc', { params: { id } }), isOld);
};
export const nuc = resourceFamily(fetchNuc, {
  changedBy: (change, id) => change.type === 'alert' || (change.type === 'nuc' && change.id === id),
});
export const openAlerts = resource(
  () => call('listAlerts', { query: { state: 'open' } }),
  by('alert', 'status'),
);
export const nucAlerts = resourceFamily(
  (id) => call('listAlerts', { query: { state: 'all', nuc: id, limit: 100 } }),
  by('alert'),
);
export const channels = resource(() => call('listChannels', {}), by('channels'));
export const quarantine = resource(() => call('listQuarantine', {}), by('channels'));
export const mappings = resource(() => call('listMappings', {}), by('channels'));
export const arrivals = resource(() => call('listArrivals', {}), by('nuc'));
/** Which nuc gets which delivery's queens first. */
export const queens = resource(() => call('getQueens', { query: {} }), by('nuc'));
/** The days around today: what is overdue, due, and next. */
export const nearPlan = resource(async () => {
  const isOld = askedNow();
  return planWithout(await call('getPlan', { query: { back: 14, ahead: 7 } }), isOld);
}, by('nuc'));
export const status = resource(() => call('status', {}), by('status'));

/** Takes back at once what is shown of these nucs' gates and next steps: something new is known of them. */
function hideAnswers(ids: ReadonlySet<string>): void {
  const isOld = (id: string): boolean => ids.has(id);
  nucs.patch((list) => ({ ...list, items: list.items.map((one) => summaryWithout(one, isOld)) }));
  nearPlan.patch((plan) => planWithout(plan, isOld));
  for (const id of ids) nuc.kept(id)?.patch((detail) => detailWithout(detail, isOld));
}

effect(() => {
  if (awaited.value.size > 0) hideAnswers(awaited.value);
});

/** Logged on another device: what is shown was worked out before it. */
onLive((event) => {
  if (event.type !== 'nuc' || event.logged !== true) return;
  noteChange(event.id);
  hideAnswers(new Set([event.id]));
});

/** After this page stored something about nucs, sites, deliveries or their plan; about one of them, or all. */
export const nucsChanged = (id = ''): Promise<void> => changed({ type: 'nuc', id });
export const channelsChanged = (): Promise<void> => changed({ type: 'channels' });

const isNewer = (latest: { readonly time: string } | null | undefined, time: string): boolean =>
  !!latest && Date.parse(latest.time) > Date.parse(time);

/** A new reading goes straight to where it is shown; the lists are not asked for again. */
onLive((event) => {
  if (event.type !== 'reading') return;
  nucs.patch((list) => ({ ...list, items: list.items.map((one) => withReading(one, event)) }));
  if (event.hiveId !== undefined) nuc.kept(event.hiveId)?.patch((one) => withReading(one, event));
  channels.patch((list) => ({
    ...list,
    items: list.items.map((one) =>
      one.id === event.channelId && !isNewer(one.latest, event.time)
        ? {
            ...one,
            health: 'fresh',
            latest: newestOf(event),
            rawCounts: event.rawCounts ?? null,
          }
        : one,
    ),
  }));
});
