/** Outcomes by group with Wilson intervals, and plain words where there are too few to say. */
import { Temporal } from 'temporal-polyfill';
import type { Outcomes } from '../../contract/review.ts';
import type { ParsedQueryOf } from '../../contract/index.ts';
import type { OutcomeRow } from '../views.ts';
import { fisherExact } from '../../signals/statistics/fisher.ts';
import { wilson } from '../../signals/statistics/intervals.ts';
import { groupBy } from '../../group-by.ts';
import { percentInWords } from '../../words/chance.ts';
import { counted } from '../../words/sentence.ts';

export interface OutcomeFacts extends OutcomeRow {
  readonly framesOfBees: number | null;
  readonly timeZone: string;
  /** A queen was hung in the nuc, or let out in it. */
  readonly queenWasInIt: boolean;
}

type By = ParsedQueryOf<'outcomes'>['by'];
type Item = Outcomes['items'][number];

/** Fewer than this in a group say next to nothing. */
const fewest = 5;
/** An interval of a share that is wider than this is that of a few. */
const wide = 0.2;

export function outcomesView(rows: readonly OutcomeFacts[], by: By): Outcomes {
  const items = [...groupBy(rows.filter(wasBegun), (row) => groupOf(row, by))]
    .map(([group, members]) => item(group, members))
    .sort((a, b) => endedIn(b) - endedIn(a) || (a.group < b.group ? -1 : 1));
  return { items, text: inWords(items), comparison: compare(items) };
}

/** A nuc that was closed before a queen was in it says nothing about queens. */
const wasBegun = (row: OutcomeFacts): boolean =>
  row.outcome === '' || row.outcome === 'accepted' || row.queenWasInIt;

function groupOf(row: OutcomeFacts, by: By): string {
  switch (by) {
    case 'source':
      return row.source === '' ? 'source not given' : row.source;
    case 'method':
      return row.method.replaceAll('-', ' ');
    case 'starting-point':
      return row.startingPoint.replaceAll('-', ' ');
    case 'strength':
      return strength(row.framesOfBees);
    case 'season':
      return season(row);
  }
}

const strength = (frames: number | null): string =>
  frames === null
    ? 'strength not logged'
    : frames < 2
      ? 'under 2 frames of bees'
      : frames < 3
        ? '2 to 3 frames of bees'
        : '3 frames of bees and more';

function season({ splitAt, timeZone }: OutcomeFacts): string {
  if (splitAt === '') return 'no split logged';
  const date = Temporal.Instant.from(splitAt).toZonedDateTimeISO(timeZone);
  return `${String(date.year)}-${String(date.month).padStart(2, '0')}`;
}

function item(group: string, rows: readonly OutcomeFacts[]): Item {
  const accepted = rows.filter(({ outcome }) => outcome === 'accepted').length;
  const ended = rows.filter(({ outcome }) => outcome !== '').length;
  const lost = ended - accepted;
  const open = rows.length - ended;
  if (ended === 0) return { group, accepted, lost, open, share: null, low: null, high: null };
  const { low, high } = wilson(accepted, ended);
  return { group, accepted, lost, open, share: accepted / ended, low, high };
}

const endedIn = ({ accepted, lost }: Item): number => accepted + lost;

function inWords(items: readonly Item[]): string {
  const accepted = items.reduce((sum, one) => sum + one.accepted, 0);
  const ended = items.reduce((sum, one) => sum + endedIn(one), 0);
  if (ended === 0) return 'No introduction has an outcome yet: log it when you know.';
  const { low, high } = wilson(accepted, ended);
  const queens = `${counted(ended, 'queen')} ${accepted === 1 ? 'was' : 'were'} accepted`;
  const share = high - low > wide ? 'With so few, the true share' : 'The true share';
  const all = `${String(accepted)} of ${queens}: ${percentInWords((100 * accepted) / ended)}. ${share} may lie anywhere from ${percentInWords(100 * low)} to ${percentInWords(100 * high)}.`;
  const large = items.filter((one) => endedIn(one) >= fewest);
  return large.length < 2 && large.length < items.length
    ? `${all} Groups with fewer than ${String(fewest)} outcomes say next to nothing.`
    : all;
}

/** The two largest groups, if both are large enough. */
function compare(items: readonly Item[]): Outcomes['comparison'] {
  const [a, b] = items.filter((one) => endedIn(one) >= fewest);
  if (!a || !b) return null;
  const p = fisherExact({ a: a.accepted, b: a.lost, c: b.accepted, d: b.lost }).twoSided;
  const verdict =
    p < 0.05
      ? 'chance alone would rarely give such a difference'
      : 'a difference like this comes by chance often enough: it proves nothing';
  return { p, text: `${a.group} against ${b.group}: ${verdict}.` };
}
