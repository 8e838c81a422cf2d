/** Notifications of the browser: asked for by a tick, shown for what is urgent, once, and no more when unticked. */
import { describe, expect, it } from 'vitest';
import type { LiveEvent } from '../../server/contract/alerts.ts';
import { chromium, missing } from '../support/programs.ts';
import { visit, type Visit } from './visit.ts';

const tick = 'Notify me on this device';
const raised = (id: string, urgency: 'now' | 'today' | 'next-visit'): LiveEvent => ({
  type: 'alert',
  id,
  phase: 'raised',
  urgency,
  headline: `Elm 3: ${id}`,
});

/** Keeps what was shown, and answers the question as told: a machine without a desktop has nobody to ask. */
const recorder = (answer: string): string => `
  window.shownNotes = [];
  window.Notification = class {
    static permission = 'default';
    static requestPermission() { return Promise.resolve('${answer}'); }
    constructor(title, options) { window.shownNotes.push(title + ' #' + options.tag); }
  };`;

const shownBy = ({ page }: Visit): Promise<unknown> => page.evaluate('window.shownNotes');

/** Written once the browser has answered. */
const remembered = ({ page }: Visit): Promise<unknown> =>
  page.evaluate("localStorage.getItem('welcomb.notes')");

describe.skipIf(missing('Chromium', chromium))('a notification of the browser', () => {
  it('comes for what needs somebody now or today, once each, until it is unticked', async () => {
    const at = await visit();
    await at.page.addInitScript(recorder('granted'));
    await at.open('#/settings');
    const box = at.page.getByLabel(tick);
    expect(await box.isChecked()).toBe(false);
    await at.emit(raised('before-it-was-wanted', 'now'));
    await box.check();
    await expect.poll(() => remembered(at)).toBe('yes');
    await at.emit(raised('cold', 'now'));
    await at.emit(raised('cold', 'now'));
    await at.emit(raised('battery', 'next-visit'));
    await at.emit(raised('look', 'today'));
    expect(await shownBy(at)).toEqual([
      expect.stringContaining('Elm 3: cold #cold'),
      expect.stringContaining('Elm 3: look #look'),
    ]);
    // The device remembers it.
    await at.page.reload();
    await box.waitFor();
    expect(await box.isChecked()).toBe(true);
    await box.uncheck();
    await expect.poll(() => remembered(at)).toBe('no');
    await at.emit(raised('later', 'now'));
    expect(await shownBy(at)).toEqual([]);
    await at.end();
  });

  it('comes again where an alert got worse, or the time until which it was put off is over', async () => {
    const at = await visit();
    await at.page.addInitScript(recorder('granted'));
    await at.open('#/settings');
    await at.page.getByLabel(tick).check();
    await expect.poll(() => remembered(at)).toBe('yes');
    const then = (phase: string, urgency: 'now' | 'today' | 'next-visit'): Promise<void> =>
      at.emit({ ...raised('cold', urgency), phase } as LiveEvent);
    await then('raised', 'next-visit');
    await then('worsened', 'today');
    await then('worsened', 'now');
    await then('seen', 'now');
    await then('put-off', 'now');
    await then('put-off-over', 'now');
    await then('cleared', 'now');
    expect(await shownBy(at)).toEqual(
      ['today', 'now', 'now'].map((word) => expect.stringContaining(`${word}: Elm 3: cold #cold`) as string),
    );
    await at.end();
  });

  it('says so where the browser does not allow it, and stays off', async () => {
    const at = await visit();
    await at.page.addInitScript(recorder('denied'));
    await at.open('#/settings');
    await at.page.getByLabel(tick).click();
    await at.page.getByText('This browser does not allow it').waitFor();
    expect(await at.page.getByLabel(tick).isChecked()).toBe(false);
    await at.emit(raised('cold', 'now'));
    expect(await shownBy(at)).toEqual([]);
    await at.end();
  });
});
