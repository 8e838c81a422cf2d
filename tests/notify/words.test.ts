/** The words of a message: what to do first, in the reader's units and the site's time. */
import { describe, expect, it } from 'vitest';
import { linkOf, wordsOf } from '../../server/notify/words.ts';
import { delivery, effect, nuc, recipient } from './made-up.ts';

const { display } = recipient();
const item = (over = {}, subject = nuc(1)) => {
  const { episode, ruleId } = effect('raised', { subject });
  const { id: episodeId, urgency, message } = episode;
  return {
    episodeId,
    ruleId,
    title: 'Brood is chilling',
    subject,
    timeZone: 'America/St_Johns',
    urgency,
    message,
    over: false,
    ...over,
  };
};

describe('words', () => {
  it('link to the nuc where the owner said where the page is, and to Today for what is no nuc’s', () => {
    const page = 'https://bees.example.org';
    expect(linkOf(item(), page)).toBe('https://bees.example.org/#/nucs/n1');
    expect(linkOf(item({}, { kind: 'channel', id: '7', name: 'probe', nucId: 'n 2' }), page)).toBe(
      'https://bees.example.org/#/nucs/n%202',
    );
    expect(linkOf(item({}, { kind: 'server', id: 'server', name: 'Server' }), page)).toBe(`${page}/#/today`);
    expect(linkOf(item(), null)).toBeNull();
  });

  it('come in the units of the reader and the time of the site', () => {
    const { text } = wordsOf(delivery({ items: [item()] }), { ...display, temperature: 'F' });
    expect(text).toContain('Brood at 86.0 °F.');
    // 11:00 UTC is 08:30 in Newfoundland in May (UTC−2:30).
    expect(text).toContain('What to do: Warm it now. By Wed 6 May 08:30.');
  });

  it.each([
    ['alert', [item()], 'Now: Brood is chilling, Nuc 1'],
    ['reminder', [item()], 'Now: Brood is chilling, Nuc 1 (reminder)'],
    ['all-clear', [item()], 'Over: Brood is chilling, Nuc 1'],
    ['alert', [item(), item({}, nuc(2))], 'Now: Brood is chilling, 2 at Hill'],
    ['digest', [item(), item({ over: true })], 'Daily digest: 1 open'],
    ['digest', [item({ over: true })], 'Daily digest: nothing open'],
    ['test', [], 'Welcomb: a test'],
  ] as const)('%s', (kind, items, heading) => {
    expect(wordsOf(delivery({ kind, items }), display).heading).toBe(heading);
  });

  it('says what was found when a keeper closed it', () => {
    const { text } = wordsOf(
      delivery({ kind: 'all-clear', items: [item({ found: 'lid was off' })] }),
      display,
    );
    expect(text).toBe('Nuc 1: “Brood is chilling” was closed. Found: lid was off');
  });

  it('lets no name break out of the heading', () => {
    const bad = { ...nuc(1), name: 'Nuc\r\nBcc: all@x.example\u2028' };
    const { heading } = wordsOf(delivery({ items: [item({}, bad)] }), display);
    expect(heading).toBe('Now: Brood is chilling, Nuc Bcc: all@x.example');
  });
});
