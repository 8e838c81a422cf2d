/** One question and its answer in a line; why, when it is opened. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

interface AnswerProps {
  readonly question: ComponentChildren;
  readonly answer: string;
  readonly kind?: string;
  readonly children: ComponentChildren;
}

export function Answer({ question, answer, kind = '', children }: AnswerProps) {
  const [open, setOpen] = useState(false);
  return (
    <details
      class={`answer ${kind}`}
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>
        <span class="answer-question">{question}</span> <span class="answer-short">{answer}</span>
      </summary>
      {open && <div class="answer-why">{children}</div>}
    </details>
  );
}
