/** The farm's things as the pages share them. */
import type { LiveEvent } from '../../server/contract/alerts.ts';
import { call } from '../api/client.ts';
import { onLive } from './live.ts';
import { resource, resourceFamily } from './resource.ts';
import { withReading } from './with-reading.ts';

const about =
  (...types: LiveEvent['type'][]) =>
  (event: LiveEvent): boolean =>
    types.includes(event.type);

export const sites = resource(() => call('listSites', {}), about('nuc'));
export const hives = resource(() => call('listHives', {}), about('nuc'));
/** Without the traces: a long season's nights and hours of thirty nucs are not needed for a list. */
export const nucs = resource(() => call('listNucs', { query: { traces: 'false' } }), about('nuc', 'alert'));
export const nuc = resourceFamily(
  (id) => call('getNuc', { params: { id } }),
  (event, id) => (event.type === 'nuc' && event.id === id) || event.type === 'alert',
);
export const openAlerts = resource(() => call('listAlerts', { query: { state: 'open' } }), about('alert'));
export const allAlerts = resource(
  () => call('listAlerts', { query: { state: 'all', limit: 200 } }),
  about('alert'),
);
export const nucAlerts = resourceFamily(
  (id) => call('listAlerts', { query: { state: 'all', nuc: id, limit: 100 } }),
  about('alert'),
);
export const channels = resource(() => call('listChannels', {}), about('channels'));
export const quarantine = resource(() => call('listQuarantine', {}), about('channels'));
export const mappings = resource(() => call('listMappings', {}), about('channels'));
export const arrivals = resource(() => call('listArrivals', {}), about('nuc'));
/** Which nuc gets which delivery's queens first. */
export const queens = resource(() => call('getQueens', { query: {} }), about('nuc'));
/** The days around today: what is overdue, due, and next. */
export const nearPlan = resource(() => call('getPlan', { query: { back: 14, ahead: 7 } }), about('nuc'));
export const status = resource(() => call('status', {}), about('status'));

/** A new reading goes straight to where it is shown; the lists are not asked for again. */
onLive((event) => {
  if (event.type !== 'reading') return;
  const { value, unit, time } = event;
  nucs.patch((list) => ({ ...list, items: list.items.map((one) => withReading(one, event)) }));
  if (event.hiveId !== undefined) nuc(event.hiveId).patch((one) => withReading(one, event));
  channels.patch((list) => ({
    ...list,
    items: list.items.map((one) =>
      one.id === event.channelId
        ? { ...one, health: 'fresh', latest: { value, unit, time, stale: false, suspect: false } }
        : one,
    ),
  }));
});
