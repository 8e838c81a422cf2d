/** A part of the page that is opened when it is wanted; until then it asks the server nothing. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

export function Fold({ title, children }: { title: string; children: ComponentChildren }) {
  const [open, setOpen] = useState(false);
  return (
    <section class="card fold no-print" aria-label={title}>
      <details
        open={open}
        onToggle={(event) => {
          setOpen(event.currentTarget.open);
        }}
      >
        <summary>
          <h2>{title}</h2>
        </summary>
        {open && <div class="fold-inside">{children}</div>}
      </details>
    </section>
  );
}
