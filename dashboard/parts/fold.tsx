/** A part of a page behind its heading: made when it is opened; until then it asks the server nothing. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

interface FoldProps {
  readonly title: string;
  /** What is inside, in a word or two. */
  readonly note?: string;
  readonly open?: boolean;
  readonly class?: string;
  readonly children: ComponentChildren;
}

export function Fold({
  title,
  note = '',
  open: first = false,
  class: name = 'fold-card',
  children,
}: FoldProps) {
  const [open, setOpen] = useState(first);
  return (
    <section class={`card ${name}`} aria-label={title}>
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
