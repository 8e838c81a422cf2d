/** Making up a batch: nucs and their introductions, all planned against one delivery or one split day. */
import { atHourOfDate } from '../introduction/calendar.ts';
import type { IntroductionSetup } from '../introduction/state.ts';
import type { ParsedBodyOf, ResponseOf } from '../http/contract/index.ts';
import type { BatchPreview } from '../http/contract/plan.ts';
import { Refusal } from '../http/problem.ts';
import { iso } from '../http/wire.ts';
import type { Site } from '../store/places/sites.ts';
import type { Store } from '../store/store.ts';
import { previewSteps, previewToWire, splitDate } from './views/plan-view.ts';

type Input = ParsedBodyOf<'previewBatch'>;

interface Planned {
  readonly site: Site;
  readonly splitOn: string;
  readonly setup: Omit<IntroductionSetup, 'id' | 'nucId'>;
}

const splitHour = 10;
const postHour = 12;

function planned(store: Store, input: Input, nowMs: number): Planned {
  const site = store.places.site(input.siteId);
  if (!site) throw new Refusal(404, `There is no site ${input.siteId}.`);
  const arrival = input.arrivalId === undefined ? undefined : store.queens.arrival(input.arrivalId);
  if (input.arrivalId !== undefined && !arrival)
    throw new Refusal(404, `There is no delivery ${input.arrivalId}.`);
  const { timeZone } = site;
  const splitOn = splitDate(input, {
    timeZone,
    unavailable: [],
    ...(arrival ? { arrival: arrival.expected } : {}),
  });
  if (splitOn === undefined)
    throw new Refusal(
      400,
      input.by === 'arrival'
        ? 'Name the delivery that the batch is planned for.'
        : 'Name the day of the split.',
    );
  const setup = {
    startingPoint: input.startingPoint,
    method: input.method,
    timeZone,
    openedAtMs: nowMs,
    plannedSplitMs: atHourOfDate(splitOn, splitHour, timeZone),
    ...(arrival
      ? { expectedQueenMs: atHourOfDate(arrival.arrived ?? arrival.expected, postHour, timeZone) }
      : {}),
  };
  return { site, splitOn, setup };
}

export function previewBatch(
  store: Store,
  input: Input,
  unavailable: readonly string[],
  nowMs: number,
): BatchPreview {
  const { splitOn, setup, site } = planned(store, input, nowMs);
  const steps = previewSteps({ ...setup, id: 'preview', nucId: 'preview' }, unavailable, nowMs);
  const preview = previewToWire(splitOn, steps, site.timeZone);
  const clashes = [...preview.clashes, ...shortage(store, input)];
  return { ...preview, clashes };
}

/** More nucs than queens that are not yet spoken for. */
function shortage(store: Store, { arrivalId, nucs }: Input): string[] {
  const arrival = arrivalId === undefined ? undefined : store.queens.arrival(arrivalId);
  if (!arrival) return [];
  const left = arrival.queens - arrival.dead - arrival.assigned;
  return left >= nucs
    ? []
    : [
        `${arrival.name} has ${String(Math.max(0, left))} queens that are not spoken for, and the batch needs ${String(nucs)}`,
      ];
}

export function createBatch(
  store: Store,
  input: Input,
  unavailable: readonly string[],
  nowMs: number,
  newId: () => string,
): ResponseOf<'createBatch'> {
  const preview = previewBatch(store, input, unavailable, nowMs);
  const { setup } = planned(store, input, nowMs);
  const nucIds = Array.from({ length: input.nucs }, (_, i) => {
    const id = newId();
    const name = `${input.namePrefix} ${String(i + 1)}`;
    store.places.putHive({
      id,
      siteId: input.siteId,
      role: 'nuc',
      name,
      batch: input.name,
      box: { kind: 'wood' },
      createdAtMs: nowMs,
    });
    store.introductions.open({
      id: newId(),
      nucId: id,
      startingPoint: input.startingPoint,
      method: input.method,
      setup: { plannedSplit: iso(setup.plannedSplitMs ?? nowMs) },
      openedAtMs: nowMs,
      ...(input.arrivalId === undefined ? {} : { arrivalId: input.arrivalId }),
    });
    return id;
  });
  return { nucIds, preview };
}
