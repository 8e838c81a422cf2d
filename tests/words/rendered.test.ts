/** Sentences as they are read, with figures, names and reasons in them: the calendar of every story, a mail of every rule. */
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { calendarFeed } from '../../server/introduction/plan/calendar-feed.ts';
import type { DeliveryItem } from '../../server/notify/delivery.ts';
import { wordsOf } from '../../server/notify/words.ts';
import { evaluateAll } from '../../server/rules/engine/evaluate.ts';
import { episodeOf } from '../../server/rules/engine/alert-state.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import type { Display } from '../../server/words/phrase.ts';
import type { Story } from '../introduction/support/story.ts';
import { instant, stateOn } from '../introduction/support/story-state.ts';
import { delivery } from '../notify/made-up.ts';
import { minute, noon } from '../rules/made-up.ts';
import { ruleCases } from '../rules/rule-cases.ts';
import { faultsOf, sentencesIn } from './collect.ts';

const display: Display = { timeZone: 'Europe/Berlin', temperature: 'C', weight: 'kg' };
/** Each sentence with a fault, once. */
const faulty = (text: string): string[] => [
  ...new Set(
    text
      .split('\n')
      // A list of things is no sentence.
      .filter((line) => !/^(Bring|DESCRIPTION:Bring): /.test(line))
      .flatMap(sentencesIn)
      .flatMap((one) => (faultsOf(one).length > 0 ? [`${faultsOf(one).join()}: ${one}`] : [])),
  ),
];

/** RFC 5545 §3.1 and §3.3.11: lines that were folded, and text that was escaped. */
const descriptionsOf = (feed: string): string =>
  [...feed.replaceAll(/\r\n[ \t]/g, '').matchAll(/^DESCRIPTION:(.*)$/gm)]
    .map(([, text = '']) =>
      text
        .trim()
        .replaceAll('\\n', '\n')
        .replaceAll(/\\([,;\\])/g, '$1'),
    )
    .join('\n');

const folder = new URL('../introduction/stories/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.ts'));

describe('a calendar', () => {
  it.each(files)('of %s', async (file) => {
    const { story } = (await import(new URL(file, folder).href)) as { story: Story };
    const text = story.expect.map(({ on }) => {
      const nowMs = instant(on);
      const { plan } = answerFor(stateOn(story, on));
      const steps = plan.map((step) => ({ step, nucName: 'Elm 3', siteName: 'Hill', revision: 0 }));
      return descriptionsOf(calendarFeed(steps, { name: 'Nucs', display, nowMs, uidDomain: 'farm.invalid' }));
    });
    expect(text.join('').length).toBeGreaterThan(50);
    expect(faulty(text.join('\n'))).toEqual([]);
  });
});

describe('a mail', () => {
  it.each(ruleCases.map((one) => [one.id, one] as const))('about %s', (id, { over }) => {
    const rule = rules.find((one) => one.id === id);
    if (!rule) throw new Error(`no rule ${id}`);
    let alerts: Parameters<typeof evaluateAll>[1] = new Map();
    for (const nowMs of [noon, noon + rule.holdMin * minute])
      ({ alerts } = evaluateAll([over(nowMs)], alerts, nowMs, { rules: [rule] }));
    const items = [...alerts.values()].flatMap((alert): DeliveryItem[] => {
      const episode = episodeOf(alert);
      if (!episode) return [];
      const { ruleId, subject } = alert;
      const { id: episodeId, urgency, message } = episode;
      return [
        {
          episodeId,
          ruleId,
          subject,
          urgency,
          message,
          title: rule.title,
          timeZone: 'Europe/Berlin',
          over: false,
        },
      ];
    });
    expect(items.length).toBeGreaterThan(0);
    const { text } = wordsOf(delivery({ items }), display);
    expect(
      faulty(text.replaceAll(/^(What to do|Seen|Why it matters|How sure|What would settle it): /gm, '')),
    ).toEqual([]);
  });
});
