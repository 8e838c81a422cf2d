/** A form: its values, and what becomes of sending them. Enter sends it as its button does. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { ActionOutcome, useAction } from './action-button.tsx';

export interface FormState<T> {
  readonly values: T;
  set(change: Partial<T>): void;
  /** The value, its setter and what the server found wrong with it, as a field takes them. */
  field<K extends keyof T>(
    key: K,
  ): {
    readonly value: T[K];
    readonly onValue: (value: T[K]) => void;
    readonly fault?: string;
  };
  reset(): void;
  readonly busy: boolean;
  /** Why it could not be sent, or that it was. */
  readonly words: string;
  readonly failed: boolean;
  submit(): void;
}

interface FormOptions {
  /** Said when it was sent. */
  readonly saved?: string;
  /** Empties it when it was sent, for the next one. */
  readonly resets?: boolean;
}

export function useForm<T extends object>(
  start: T | (() => T),
  send: (values: T) => Promise<unknown>,
  { saved, resets = false }: FormOptions = {},
): FormState<T> {
  const [first] = useState(start);
  const [values, setValues] = useState(first);
  /** What a fault was found in: a field that was changed since is not known to have it. */
  const [sent, setSent] = useState(values);
  const set = (change: Partial<T>): void => {
    setValues((now) => ({ ...now, ...change }));
  };
  const reset = (): void => {
    setValues(first);
  };
  const {
    busy,
    words,
    failed,
    faults = [],
    start: run,
  } = useAction(async () => {
    setSent(values);
    await send(values);
    if (resets) reset();
  }, saved);
  const faultIn = (key: keyof T): { fault?: string } => {
    const found = faults.find(({ pointer }) => pointer === `#/${String(key)}`);
    return found && sent[key] === values[key] ? { fault: found.detail } : {};
  };
  // What was wrong may be put right by now.
  const isStale = failed && sent !== values;
  return {
    values,
    set,
    field: (key) => ({
      ...faultIn(key),
      value: values[key],
      onValue: (value) => {
        set({ [key]: value } as unknown as Partial<T>);
      },
    }),
    reset,
    busy,
    words: isStale ? '' : words,
    failed: failed && !isStale,
    submit: () => void run(),
  };
}

interface FormProps<T> {
  readonly of: FormState<T>;
  readonly class?: string;
  readonly children: ComponentChildren;
}

export function Form<T>({ of, class: name = 'form', children }: FormProps<T>) {
  return (
    // What is wrong is said in the server's words or beside the field, not in the browser's.
    <form
      class={name}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        if (!of.busy) of.submit();
      }}
    >
      {children}
    </form>
  );
}

interface SubmitProps<T> {
  readonly of: FormState<T>;
  readonly disabled?: boolean;
  readonly main?: boolean;
  readonly children: ComponentChildren;
}

export function Submit<T>({ of, disabled = false, main = true, children }: SubmitProps<T>) {
  return (
    <span class="act">
      <button type="submit" class={main ? 'main' : ''} disabled={disabled || of.busy}>
        {of.busy ? 'One moment …' : children}
      </button>
      <ActionOutcome of={of} />
    </span>
  );
}

/** For gloves: as wide as the form and always in sight, with what went wrong above it. */
export function BigSubmit<T>({ of, disabled = false, children }: SubmitProps<T>) {
  return (
    <div class="save">
      {of.failed && (
        <p class="fault" role="alert">
          {of.words}
        </p>
      )}
      <button type="submit" class="main big" disabled={disabled || of.busy}>
        {children}
      </button>
    </div>
  );
}
