/** Form fields with their labels, hints and big targets. */
import type { ComponentChildren } from 'preact';
import { useId, useState } from 'preact/hooks';
import { numberFault, typedNumber } from '../format/typed.ts';

interface Common {
  readonly label: string;
  /** What it is about, where the sight of its surroundings says so: told to who only hears the label. */
  readonly about?: string | undefined;
  readonly hint?: ComponentChildren;
  readonly fault?: string | undefined;
}

interface TextProps extends Common {
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly type?: 'text' | 'password' | 'date' | 'time' | 'datetime-local' | 'number' | 'url' | 'email';
  readonly autocomplete?: 'username' | 'current-password' | 'new-password' | 'off';
  readonly required?: boolean;
  readonly min?: string | number;
  readonly max?: string | number;
  readonly step?: string | number;
  readonly maxLength?: number;
}

function Around({
  id,
  label,
  about,
  hint,
  fault,
  children,
}: Common & { id: string; children: ComponentChildren }) {
  return (
    <div class="field">
      <label for={id}>
        {label}
        {about !== undefined && <span class="hidden-words"> {about}</span>}
      </label>
      {children}
      {hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {fault !== undefined && (
        <p class="fault" id={`${id}-fault`}>
          {fault}
        </p>
      )}
    </div>
  );
}

const describedBy = (id: string, { hint, fault }: Common): string | undefined =>
  [hint === undefined ? '' : `${id}-hint`, fault === undefined ? '' : `${id}-fault`].join(' ').trim() ||
  undefined;

export function Text({ value, onValue, type = 'text', label, about, hint, fault, ...rest }: TextProps) {
  const id = useId();
  const common = { label, about, hint, fault };
  return (
    <Around id={id} {...common}>
      <input
        id={id}
        type={type as 'text'}
        value={value}
        dir={type === 'text' ? 'auto' : undefined}
        aria-describedby={describedBy(id, common)}
        aria-invalid={fault !== undefined}
        onInput={(event) => {
          onValue(event.currentTarget.value);
        }}
        {...rest}
      />
    </Around>
  );
}

/** For a number, with a point or a comma. */
export const NumberText = ({ fault, ...rest }: TextProps) => (
  <Text {...rest} fault={numberFault(rest.value) ?? fault} />
);

export function LongText({ value, onValue, label, hint, fault, rows = 3 }: TextProps & { rows?: number }) {
  const id = useId();
  const common = { label, hint, fault };
  return (
    <Around id={id} {...common}>
      <textarea
        id={id}
        rows={rows}
        dir="auto"
        value={value}
        aria-describedby={describedBy(id, common)}
        onInput={(event) => {
          onValue(event.currentTarget.value);
        }}
      />
    </Around>
  );
}

export interface Option<T extends string> {
  readonly value: T;
  readonly words: string;
}
interface SelectProps<T extends string> extends Common {
  readonly value: T;
  readonly onValue: (value: T) => void;
  readonly options: readonly Option<T>[];
}

/** From a table of words. */
export const optionsOf = <T extends string>(table: Readonly<Record<T, string>>): readonly Option<T>[] =>
  (Object.keys(table) as T[]).map((value) => ({ value, words: table[value] }));

/** For long lists. */
export function Select<T extends string>({ value, onValue, options, ...common }: SelectProps<T>) {
  const id = useId();
  return (
    <Around id={id} {...common}>
      <select
        id={id}
        value={value}
        aria-describedby={describedBy(id, common)}
        onChange={(event) => {
          onValue(event.currentTarget.value as T);
        }}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.words}
          </option>
        ))}
      </select>
    </Around>
  );
}

interface ChoiceProps<T extends string> extends Omit<SelectProps<T>, 'value'> {
  /** Undefined: none is chosen yet. */
  readonly value: T | undefined;
}

/** For a few answers, all of them in sight. */
export function Choice<T extends string>({ value, onValue, options, label, hint, fault }: ChoiceProps<T>) {
  const id = useId();
  return (
    <fieldset class="choice">
      <legend>{label}</legend>
      {hint !== undefined && <p class="hint">{hint}</p>}
      <div class="choice-options">
        {options.map((option) => (
          <label key={option.value} class={option.value === value ? 'chosen' : ''}>
            <input
              type="radio"
              name={id}
              value={option.value}
              checked={option.value === value}
              onChange={() => {
                onValue(option.value);
              }}
            />
            <span>{option.words}</span>
          </label>
        ))}
      </div>
      {fault !== undefined && <p class="fault">{fault}</p>}
    </fieldset>
  );
}

export function Checkbox({
  label,
  hint,
  value,
  onValue,
}: Common & { value: boolean; onValue: (value: boolean) => void }) {
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={value}
        onChange={(event) => {
          onValue(event.currentTarget.checked);
        }}
      />
      <span>
        {label}
        {hint !== undefined && <span class="hint">{hint}</span>}
      </span>
    </label>
  );
}

interface StepperProps extends Common {
  /** None where it was not answered. */
  readonly value: number | undefined;
  readonly onValue: (value: number) => void;
  /** Where it may be left without an answer: its figure was wiped out. */
  readonly onClear?: () => void;
  readonly step?: number;
  readonly least?: number;
  readonly most: number;
  readonly words?: (value: number) => string;
  /** What the first press of + says where nothing is answered. */
  readonly first?: number;
}

/** Counting with gloves on: two large buttons, and the figure between them can be typed as well. */
export function Stepper({
  label,
  hint,
  fault,
  value,
  onValue,
  onClear,
  step = 1,
  least = 0,
  most,
  words = String,
  first = least + step,
}: StepperProps) {
  const id = useId();
  const [unclear, setUnclear] = useState<string | undefined>();
  const shown = value === undefined ? '' : words(value);
  const set = (to: number): void => {
    setUnclear(undefined);
    onValue(Math.min(most, Math.max(least, Math.round(to / step) * step)));
  };
  return (
    <div class="stepper" role="group" aria-labelledby={`${id}-label`}>
      <span id={`${id}-label`} class="stepper-label">
        {label}
        {hint !== undefined && <span class="hint">{hint}</span>}
      </span>
      <span class="stepper-set">
        <button
          type="button"
          aria-label={`one step less: ${label}`}
          disabled={value !== undefined && value <= least}
          onClick={() => {
            set(value === undefined ? least : value - step);
          }}
        >
          −
        </button>
        <input
          inputMode="decimal"
          aria-label={label}
          placeholder="–"
          value={shown}
          onFocus={(event) => {
            event.currentTarget.select();
          }}
          onChange={(event) => {
            const text = event.currentTarget.value;
            const typed = typedNumber(text);
            setUnclear(numberFault(text));
            if (Number.isFinite(typed)) set(typed);
            else if (text.trim() === '' && onClear) onClear();
            // What is no number is not left standing beside another value.
            else event.currentTarget.value = shown;
          }}
        />
        <button
          type="button"
          aria-label={`one step more: ${label}`}
          disabled={value !== undefined && value >= most}
          onClick={() => {
            set(value === undefined ? first : value + step);
          }}
        >
          +
        </button>
      </span>
      {(unclear ?? fault) !== undefined && <p class="fault">{unclear ?? fault}</p>}
    </div>
  );
}
