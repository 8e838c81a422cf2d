/** What is promised without signal, and where. */
import { offline } from '../offline/register.ts';

const words = {
  starting: 'Looking whether this page can be kept on this device …',
  ready:
    'This page is kept on this device: it opens without signal, and can be added to the home screen as an app.',
  'not-secure':
    'Reached over plain HTTP, so the browser does not let the page be kept. Open it before you leave and leave it open: visits are then kept without signal, also over a reload of the open page’s data. With HTTPS set up it opens without signal as well.',
  'not-possible':
    'This browser can’t keep the page. Open it before you leave and leave it open: visits are then kept without signal.',
} as const;

export function OfflineWords() {
  return (
    <details class="offline-words">
      <summary>Without signal</summary>
      <p>{words[offline.value]}</p>
      <p>Whatever you keep here stays on this device until the server has stored it.</p>
    </details>
  );
}
