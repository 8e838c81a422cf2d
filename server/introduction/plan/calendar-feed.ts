/**
 * The plan as a calendar (RFC 5545) that phones subscribe to. An event keeps its UID however often the plan
 * is worked out again; its SEQUENCE is the revision of its date, so that a moved date moves the event
 * instead of adding another.
 */
import ical, {
  ICalAlarmType,
  ICalCalendarMethod,
  ICalEventStatus,
  ICalEventTransparency,
} from 'ical-generator';
import { inWords, type Display } from '../../words/phrase.ts';
import type { PlanStep } from '../acts/plan-step.ts';

export interface FeedStep {
  readonly step: PlanStep;
  readonly nucName: string;
  readonly siteName: string;
  /** Grows with every change of the step's date. */
  readonly revision: number;
}

export interface FeedOptions {
  readonly name: string;
  /** How sentences are set; its zone is shown to calendars that ask for one. Event times are instants. */
  readonly display: Display;
  readonly nowMs: number;
  /** Right part of each UID: the farm's own name for itself. */
  readonly uidDomain: string;
  /** Hours before each visit at which the calendar reminds; null or absent: it does not. */
  readonly reminderH?: number | null;
}

const halfHourMs = 3_600_000 / 2;

function description({ step }: FeedStep, display: Display): string {
  const bring = step.whatToBring.length > 0 ? [`Bring: ${step.whatToBring.join(', ')}.`] : [];
  const why = step.why.map((words) => inWords(words, display));
  return [step.whatToDo, ...bring, ...why, ...step.clashes.map((clash) => `Clash: ${clash}.`)].join('\n');
}

/** Calendar text, lines folded at 75 octets and ended by CR LF. */
export function calendarFeed(steps: readonly FeedStep[], options: FeedOptions): string {
  const calendar = ical({
    name: options.name,
    prodId: { company: 'Welcomb', product: 'Introductions', language: 'EN' },
    method: ICalCalendarMethod.PUBLISH,
    ttl: 3600,
    timezone: null,
    x: [{ key: 'X-WR-TIMEZONE', value: options.display.timeZone }],
  });
  const { reminderH = null } = options;
  for (const feed of steps) {
    const { step } = feed;
    const startMs = step.done?.atMs ?? step.targetMs;
    const reminds = reminderH !== null && !step.done;
    calendar.createEvent({
      id: `${step.id}@${options.uidDomain}`,
      sequence: feed.revision,
      stamp: new Date(options.nowMs),
      start: new Date(startMs),
      end: new Date(startMs + halfHourMs),
      summary: `${step.done ? 'Done: ' : ''}${step.label} – ${feed.nucName}`,
      description: description(feed, options.display),
      location: feed.siteName,
      status: step.done ? ICalEventStatus.CONFIRMED : ICalEventStatus.TENTATIVE,
      transparency: ICalEventTransparency.TRANSPARENT,
      alarms: reminds ? [{ type: ICalAlarmType.display, triggerBefore: reminderH * 3600 }] : [],
    });
  }
  // RFC 5545 ends every line so; the library leaves the last one open.
  return `${calendar.toString().trimEnd()}\r\n`;
}
