/** A question with two answers side by side, and none of them taken for granted. */
import { useId } from 'preact/hooks';

interface YesNoProps {
  readonly label: string;
  readonly hint?: string | undefined;
  readonly value: boolean | undefined;
  readonly onValue: (value: boolean) => void;
}

export function YesNo({ label, hint, value, onValue }: YesNoProps) {
  const id = useId();
  return (
    <fieldset class="yes-no">
      <legend>
        {label}
        {hint !== undefined && <span class="hint"> {hint}</span>}
      </legend>
      {[false, true].map((answer) => (
        <label key={String(answer)} class={value === answer ? 'chosen' : ''}>
          <input
            type="radio"
            name={id}
            checked={value === answer}
            onChange={() => {
              onValue(answer);
            }}
          />
          <span>{answer ? 'yes' : 'no'}</span>
        </label>
      ))}
    </fieldset>
  );
}
