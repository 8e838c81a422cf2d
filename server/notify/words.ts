/** A delivery in words: a heading and a text, for a mail, a lock screen or a log. */
import { clock, inWords, setFigure, type Display } from '../words/phrase.ts';
import type { Urgency } from '../rules/engine/types.ts';
import type { Delivery, DeliveryItem } from './delivery.ts';

export interface Words {
  readonly heading: string;
  readonly text: string;
}

const urgencyWords: Readonly<Record<Urgency, string>> = {
  now: 'Now',
  today: 'Today',
  'next-visit': 'Next visit',
};

export function wordsOf({ kind, urgency, items }: Delivery, display: Display): Words {
  if (kind === 'test') {
    return {
      heading: 'Welcomb: a test',
      text: 'This is a test. If you can read it, this notification channel works.',
    };
  }
  const lines = items.map((item) => (kind === 'all-clear' ? ending(item) : paragraphs(item, display)));
  return { heading: oneLine(headingOf(kind, urgency, items)), text: lines.join('\n\n') };
}

function headingOf(kind: Delivery['kind'], urgency: Urgency, items: readonly DeliveryItem[]): string {
  const [first] = items;
  const open = items.filter(({ over }) => !over).length;
  if (kind === 'digest')
    return open === 0 ? 'Daily digest: nothing open' : `Daily digest: ${String(open)} open`;
  const what = first?.title ?? '';
  const where =
    items.length === 1 ? (first?.subject.name ?? '') : `${String(items.length)} at ${siteOf(first)}`;
  if (kind === 'all-clear') return `Over: ${what}, ${where}`;
  const again = kind === 'reminder' ? ' (reminder)' : '';
  return `${urgencyWords[urgency]}: ${what}, ${where}${again}`;
}

/** The page that shows what an alert is about; null where nobody said where the page is. */
export const linkOf = (item: DeliveryItem, pageAddress: string | null): string | null =>
  pageAddress === null ? null : `${pageAddress}/${pageOf([item])}`;

/** The page of the one nuc that these are about, below the page's own address; Today where there are several. */
export function pageOf(items: readonly DeliveryItem[]): string {
  const nucs = new Set(items.map(({ subject }) => (subject.kind === 'nuc' ? subject.id : subject.nucId)));
  const [nuc] = nucs;
  return nucs.size === 1 && nuc !== undefined ? `#/nucs/${encodeURIComponent(nuc)}` : '#/today';
}

/** For a lock screen: what to do and by when, a line for each nuc. */
export function briefWordsOf(delivery: Delivery, display: Display): Words {
  const { kind, items } = delivery;
  const whole = wordsOf(delivery, display);
  if (kind === 'test') return whole;
  const line = (item: DeliveryItem): string => {
    if (kind === 'all-clear' || item.over) return ending(item);
    if (kind === 'digest') return `${item.subject.name}: ${item.title}`;
    const todo = todoOf(item, display);
    return items.length === 1 ? todo : `${item.subject.name}: ${todo}`;
  };
  return { heading: whole.heading, text: items.map(line).join('\n') };
}

const siteOf = (item: DeliveryItem | undefined): string => item?.subject.siteName ?? 'this farm';

const ending = ({ title, subject, found }: DeliveryItem): string =>
  found === undefined
    ? `${subject.name}: “${title}” is over.`
    : `${subject.name}: “${title}” was closed. Found: ${found}`;

function paragraphs(item: DeliveryItem, readers: Display): string {
  const { title, subject, message, timeZone, urgency, over } = item;
  if (over) return ending(item);
  const display = { ...readers, timeZone };
  return [
    `${subject.name}${subject.siteName === undefined ? '' : ` (${subject.siteName})`}: ${title} – ${urgencyWords[urgency].toLowerCase()}`,
    `What to do: ${todoOf(item, readers)}`,
    `Seen: ${inWords(message.seen, display)}`,
    `Why it matters: ${inWords(message.why, display)}`,
    `How sure: ${inWords(message.howSure, display)}`,
    ...(message.settleBy ? [`What would settle it: ${inWords(message.settleBy, display)}`] : []),
  ].join('\n');
}

function todoOf({ message, timeZone }: DeliveryItem, readers: Display): string {
  const display = { ...readers, timeZone };
  const by = message.byMs === undefined ? '' : ` By ${setFigure(clock(message.byMs), display)}.`;
  return `${inWords(message.todo, display)}${by}`;
}

/** A nuc's name is the keeper's own text and must not break out of a heading. */
// oxlint-disable-next-line no-control-regex -- control characters are exactly what is taken out
const oneLine = (text: string): string => text.replace(/[\u0000-\u001f\u007f\u2028\u2029]+/g, ' ').trim();
