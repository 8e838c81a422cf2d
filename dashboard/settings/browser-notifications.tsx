/** Notifications of this browser, while a page of Welcomb is open in it. */
import { useState } from 'preact/hooks';
import { notificationsWanted, askForNotifications } from '../state/browser-notifications.ts';

export function BrowserNotifications() {
  const [said, setSaid] = useState('');
  if (!('Notification' in window)) return null;
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={notificationsWanted.value}
        onChange={(event) => {
          void askForNotifications(event.currentTarget.checked).then(setSaid);
        }}
      />
      <span>
        Notify me on this device
        <span class="hint">
          {said === '' ? 'while a page is open in it, for what needs me now or today' : said}
        </span>
      </span>
    </label>
  );
}
