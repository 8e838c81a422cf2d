/** Letters twice as large on a narrow phone: every button stays in reach, and no line is a letter wide. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { visit } from './visit.ts';

const width = 360;

/** What can be pressed and ends beyond the page, but for what scrolls by itself. */
const beyond = `[...document.querySelectorAll('main :is(a, button, summary, input, select, textarea, label)')]
  .filter((one) => one.checkVisibility() && !one.closest('.scroll-x, .columns, .hidden-words, svg'))
  .filter((one) => one.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5)
  .map((one) => one.outerHTML.slice(0, 100))`;

/** Words that stand in columns less than three letters wide, and days of the rail that lie on each other. */
const crushed = `[...document.querySelectorAll('.line-row > div, .line-row > p, .day-line > p, .stepper-label, .yes-no legend, .day-words, .owner-group > summary > b')]
  .filter((one) => one.checkVisibility() && one.textContent.trim().length > 3 && one.getBoundingClientRect().width < 96)
  .map((one) => one.className + ': ' + one.textContent.slice(0, 40))
  .concat([...document.querySelectorAll('.rail-down li')]
    .filter((one) => one.scrollHeight > one.clientHeight + 2)
    .map((one) => 'a day: ' + one.textContent))`;

describe.skipIf(missing('Chromium', chromium))('in letters twice as large, at 360 px', () => {
  it.each(['#/today', '#/nucs/n1', '#/log?nuc=n3&kind=cells-cut', '#/plan', '#/sensors', '#/settings'])(
    '%s keeps its buttons in reach and its words whole',
    async (hash) => {
      const { page, open, end } = await visit({ context: { viewport: { width, height: 740 } } });
      await open(hash);
      await page.evaluate("document.documentElement.style.fontSize = '200%'");
      await page.evaluate(
        'new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done())))',
      );
      expect({ beyond: await page.evaluate(beyond), crushed: await page.evaluate(crushed) }).toEqual({
        beyond: [],
        crushed: [],
      });
      await end();
    },
  );
});
