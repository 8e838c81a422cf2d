/** Making up a batch: nucs and their introductions, all planned against one delivery or one split day. */
import { planBatch } from '../introduction/plan/batch.ts';
import { atHourOfDate, isoDate } from '../introduction/calendar.ts';
import type { ParsedBodyOf, ResponseOf } from '../contract/index.ts';
import { mostNucsOfBatch, type BatchPreview } from '../contract/plan.ts';
import { UserError } from '../user-error.ts';
import { inWords } from '../words/phrase.ts';
import { farmSettings } from './settings.ts';
import { iso } from './wire.ts';
import type { Store } from '../store/store.ts';
import { postHour } from './setup-of.ts';

type Input = ParsedBodyOf<'previewBatch'>;
type Planned = ReturnType<typeof planBatch> & { readonly timeZone: string };

export const splitHour = 10;

function planned(store: Store, input: Input, unavailable: readonly string[], nowMs: number): Planned {
  const site = store.places.site(input.siteId);
  if (!site) throw new UserError('not-found', `There is no site ${input.siteId}.`);
  const arrival = arrivalOf(store, input);
  const { startingPoint, method, arrivalId, splitOn } = input;
  const { timeZone } = site;
  const arrivalMs = arrival && atHourOfDate(arrival.arrived ?? arrival.expected, postHour, timeZone);
  if (input.by === 'arrival' && arrivalMs === undefined) {
    throw new UserError('invalid-input', 'Name the delivery that the batch is planned for.');
  }
  if (input.by === 'split' && splitOn === undefined)
    throw new UserError('invalid-input', 'Name the day of the split.');
  const by =
    input.by === 'arrival' && arrivalMs !== undefined
      ? { arrivalMs }
      : {
          splitMs: atHourOfDate(splitOn ?? '', splitHour, timeZone),
          ...(arrivalMs === undefined ? {} : { arrivalMs }),
        };
  const batch = { id: arrivalId ?? 'batch', startingPoint, method, timeZone, by, nowMs };
  return { ...planBatch(batch, { unavailable }), timeZone };
}

function arrivalOf(store: Store, { arrivalId }: Input) {
  if (arrivalId === undefined) return undefined;
  const arrival = store.queens.arrival(arrivalId);
  if (!arrival) throw new UserError('not-found', `There is no delivery ${arrivalId}.`);
  return arrival;
}

export function previewBatch(
  store: Store,
  input: Input,
  unavailable: readonly string[],
  nowMs: number,
): BatchPreview {
  const { splitMs, steps, timeZone } = planned(store, input, unavailable, nowMs);
  const date = (atMs: number): string => isoDate(atMs, timeZone);
  const clashes = steps.flatMap((step) => step.clashes.map((clash) => `${step.label}: ${clash}`));
  return {
    splitOn: date(splitMs),
    ...(input.planned === true ? {} : { names: namesOf(store, input) }),
    steps: steps.map(({ kind, label, earliestMs, targetMs, latestMs, why }) => ({
      kind,
      label,
      earliest: date(earliestMs),
      target: date(targetMs),
      latest: date(latestMs),
      why: why.map((words) => inWords(words, { ...farmSettings(store.settings).display, timeZone })),
    })),
    clashes: [...new Set([...clashes, ...shortage(store, input)])],
  };
}

/** A nuc is known by its name, also in last year's log: none is given twice. */
function namesOf(store: Store, { namePrefix, nucs }: Input): string[] {
  const start = `${namePrefix} `.toLocaleLowerCase();
  const numbers = store.places.listHives({ retired: true }).flatMap(({ name }) => {
    const number = name.toLocaleLowerCase().startsWith(start) ? name.slice(start.length).trim() : '';
    return /^\d{1,9}$/.test(number) ? [Number(number)] : [];
  });
  const highest = Math.max(0, ...numbers);
  return Array.from({ length: nucs }, (_, i) => `${namePrefix} ${String(highest + 1 + i)}`);
}

/** More nucs than queens that are not yet spoken for. */
function shortage(store: Store, input: Input): string[] {
  const arrival = arrivalOf(store, input);
  if (!arrival || input.planned === true) return [];
  const left = Math.max(0, arrival.queens - arrival.dead - arrival.assigned);
  if (left >= input.nucs) return [];
  return [`${arrival.name} has ${String(left)} queens that are free; the batch needs ${String(input.nucs)}`];
}

export function createBatch(
  store: Store,
  { id, ...input }: ParsedBodyOf<'createBatch'>,
  unavailable: readonly string[],
  nowMs: number,
  newId: () => string,
): ResponseOf<'createBatch'> {
  const batchId = id ?? newId();
  const isRepeat = plannedAlready(store, batchId, input);
  const preview = previewBatch(store, isRepeat ? { ...input, planned: true } : input, unavailable, nowMs);
  const { splitMs } = planned(store, input, unavailable, nowMs);
  const { siteId, name, startingPoint, method, arrivalId } = input;
  const names = namesOf(store, input).values();
  const nucIds = Array.from({ length: input.nucs }, (_, i) => {
    const nucId = idOfNuc(batchId, i);
    if (!store.places.hive(nucId)) {
      store.places.putHive({
        id: nucId,
        siteId,
        role: 'nuc',
        name: names.next().value ?? nucId,
        batch: name,
        box: { kind: 'wood' },
        createdAtMs: nowMs,
      });
    }
    store.introductions.open({
      id: firstIntroduction(nucId),
      nucId,
      startingPoint,
      method,
      // Planned back from a delivery, the split follows it; its own day would hold it where it is.
      setup: input.by === 'arrival' ? {} : { plannedSplit: iso(splitMs) },
      openedAtMs: nowMs,
      ...(arrivalId === undefined ? {} : { arrivalId }),
    });
    return nucId;
  });
  return { nucIds, preview };
}

const idOfNuc = (batchId: string, index: number): string => `${batchId}-${String(index + 1)}`;
const firstIntroduction = (nucId: string): string => `${nucId}-1`;

/** Whether nucs of this batch are there, from the same form sent before. Refused where those were others. */
function plannedAlready(store: Store, batchId: string, input: Input): boolean {
  const there = Array.from({ length: mostNucsOfBatch }, (_, i) => store.places.hive(idOfNuc(batchId, i)));
  const isAnother = there.some((hive, i) => {
    if (!hive) return false;
    const opened = store.introductions.get(firstIntroduction(hive.id));
    return (
      i >= input.nucs ||
      hive.batch !== input.name ||
      hive.siteId !== input.siteId ||
      (opened !== undefined &&
        (opened.method !== input.method ||
          opened.startingPoint !== input.startingPoint ||
          opened.arrivalId !== input.arrivalId))
    );
  });
  const made = there.filter((hive) => hive !== undefined);
  if (isAnother) {
    const names = made.map(({ name }) => name).join(', ');
    throw new UserError(
      'conflict',
      `This form has planned ${names} already, otherwise than it is filled in now: reload the page to plan more.`,
    );
  }
  return made.length > 0;
}
