import { useState } from 'preact/hooks';
import { call } from '../api/client.ts';
import { dayAndTime, deviceZone } from '../format/when.ts';
import { ResourceView } from '../parts/resource-view.tsx';
import { serverMinute } from '../state/live.ts';
import { resource } from '../state/resource.ts';

const audit = resource(() => call('audit', {}));

export function Audit() {
  const [open, setOpen] = useState(false);
  return (
    <section class="card" aria-label="Who did what">
      <h2>Who did what</h2>
      <details
        onToggle={(event) => {
          setOpen(event.currentTarget.open);
        }}
      >
        <summary>The access log</summary>
        {open && (
          <ResourceView of={audit} what="the access log">
            {(data) => (
              <ul class="settings-list">
                {data.items.map((one, i) => (
                  <li key={`${one.at}${String(i)}`}>
                    <span class="soft">
                      {dayAndTime(Date.parse(one.at), deviceZone(), serverMinute.value)}
                    </span>{' '}
                    <bdi>{one.who}</bdi>: {one.what}
                  </li>
                ))}
              </ul>
            )}
          </ResourceView>
        )}
      </details>
    </section>
  );
}
