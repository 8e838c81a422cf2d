/** To open pages: handed to the event stream; a page shows it as a notification where it may. */
import type { BrowserChannel } from './recipient.ts';
import type { SenderOf } from './sender.ts';
import { wordsOf, type Words } from './words.ts';

export interface PageNotice extends Words {
  readonly key: string;
  readonly urgency: string;
  readonly episodeIds: readonly string[];
}

/** `show` returns how many pages were open; none is no failure: the page itself shows what is open. */
export function browserSender(show: (notice: PageNotice) => number): SenderOf<BrowserChannel> {
  return (delivery, recipient) => {
    const { key, urgency, items } = delivery;
    const episodeIds = items.map(({ episodeId }) => episodeId);
    const pages = show({ key, urgency, episodeIds, ...wordsOf(delivery, recipient.display) });
    return Promise.resolve({ ok: true, detail: `shown on ${String(pages)} open pages` });
  };
}
