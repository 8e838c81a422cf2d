/** A part of a page behind its heading: made when it is opened. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

interface FoldProps {
  readonly title: string;
  /** What is inside, in a word or two. */
  readonly note?: string;
  readonly open?: boolean;
  readonly children: ComponentChildren;
}

export function Fold({ title, note = '', open: first = false, children }: FoldProps) {
  const [open, setOpen] = useState(first);
  return (
    <section class="card fold-card" aria-label={title}>
      <details
        open={first}
        onToggle={(event) => {
          setOpen(event.currentTarget.open);
        }}
      >
        <summary>
          <h2>{title}</h2>
          <span class="soft">{note}</span>
        </summary>
        {open && <div class="fold-inside">{children}</div>}
      </details>
    </section>
  );
}
