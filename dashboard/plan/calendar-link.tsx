/** The secret address under which a calendar program reads the plan. */
import { useState } from 'preact/hooks';
import { call, pageBase } from '../api/client.ts';
import { ActionButton } from '../parts/action-button.tsx';

/** The server tells the whole path; what is missing is how this page reached it. */
const calendarAddress = (path: string): string => new URL(path, new URL(pageBase()).origin).href;

export function CalendarLink() {
  const [address, setAddress] = useState('');
  return (
    <>
      <p class="soft">
        A calendar program can subscribe to the plan and follows it. Anyone with the address can read the
        plan: keep it to yourself.
      </p>
      {address === '' ? (
        <ActionButton
          run={async () => {
            setAddress(calendarAddress((await call('calendarLink', {})).path));
          }}
        >
          Show my address
        </ActionButton>
      ) : (
        <>
          <p>
            <code class="address">{address}</code>
          </p>
          <p class="soft">
            End it with <code>?reminder=12</code> to be reminded 12 hours before each visit.
          </p>
          {/* Without https a browser lets no page copy. */}
          {isSecureContext && (
            <ActionButton run={() => navigator.clipboard.writeText(address)} done="Copied.">
              Copy it
            </ActionButton>
          )}
        </>
      )}
    </>
  );
}
