/** For open pages: each shows an alert by itself, where its browser may, so that nothing has to be sent. */
import type { BrowserChannel } from './recipient.ts';
import type { SenderOf } from './sender.ts';

/** Also where no page is open: whoever opens one sees what stands. */
export const browserSender =
  (openPages: () => number): SenderOf<BrowserChannel> =>
  () => {
    const pages = openPages();
    const open = pages === 1 ? 'one page is open' : `${String(pages)} pages are open`;
    return Promise.resolve({ ok: true, detail: `${open}; a page shows alerts by itself` });
  };
