/** Notifications of this browser, while a page of Welcomb is open in it. */
import { useState } from 'preact/hooks';
import { notesWanted, wantNotes } from '../state/notes.ts';

export function BrowserNotes() {
  const [said, setSaid] = useState('');
  if (!('Notification' in window)) return null;
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={notesWanted.value}
        onChange={(event) => {
          void wantNotes(event.currentTarget.checked).then(setSaid);
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
