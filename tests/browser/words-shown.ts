/** How much a page asks to be read as it is first shown: its words in sight, and its height in screens. */
import type { Page } from 'playwright-core';

export interface Shown {
  readonly words: number;
  /** Heights of the window that the whole page takes. */
  readonly screens: number;
}

/** Runs in the page. What is folded, clipped away for the eye, or an option that is not chosen is not in sight. */
const counting = `(() => {
  const clipped = (element) => element.closest('.hidden-words, [hidden], option:not(:checked), datalist, script, style, title') !== null;
  const drawn = (element) => element.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const texts = [];
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (element && !clipped(element) && drawn(element)) texts.push(node.data);
  }
  // A word has a letter or a figure: an arrow or a dot between two of them is none.
  const words = texts.join(' ').split(/\\s+/).filter((word) => /[\\p{L}\\p{N}]/u.test(word));
  return { words: words.length, screens: document.documentElement.scrollHeight / innerHeight };
})()`;

export const shownOn = (page: Page): Promise<Shown> => page.evaluate<Shown>(counting);
