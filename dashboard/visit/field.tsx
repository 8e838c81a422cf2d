/** One question of a form. */
import { fromShown, shownUnit, toShown } from '../format/units.ts';
import { Checkbox, Choice, Stepper, Text } from '../parts/fields.tsx';
import { display } from '../state/session.ts';
import type { FormField, Value } from './forms/fields.ts';
import { YesNo } from './yes-no.tsx';

interface FieldProps {
  readonly field: FormField;
  readonly value: Value | undefined;
  /** Undefined: the answer is taken back. */
  readonly onValue: (value: Value | undefined) => void;
}

const quarters = (value: number): string => value.toFixed(2).replace(/\.?0+$/, '');
const numberOf = (value: Value | undefined): number | undefined =>
  typeof value === 'number' ? value : undefined;

export function Field({ field, value, onValue }: FieldProps) {
  const hint = [field.hint, field.needed === undefined ? undefined : 'needed'].filter(Boolean).join('; ');
  const common = { label: field.label, ...(hint === '' ? {} : { hint }) };
  const onClear = (): void => {
    onValue(undefined);
  };
  const count = { ...common, value: numberOf(value), onValue, onClear };
  switch (field.type) {
    case 'count':
      return (
        <Stepper {...count} most={field.most} {...(field.first !== undefined && { first: field.first })} />
      );
    case 'frames':
      return <Stepper {...count} step={0.25} most={12} words={quarters} first={field.first} />;
    case 'amount':
      return <Amount {...{ field, hint, onValue, onClear }} value={numberOf(value)} />;
    case 'yes':
      return <YesNo {...common} value={typeof value === 'boolean' ? value : undefined} onValue={onValue} />;
    case 'seen':
      return <Checkbox {...common} value={value === true} onValue={onValue} />;
    case 'choice':
      return (
        <Choice
          {...common}
          value={String(value ?? '')}
          onValue={onValue}
          options={Object.entries(field.options).map(([key, words]) => ({ value: key, words }))}
        />
      );
    case 'words':
    case 'queen':
      return <Text {...common} value={String(value ?? '')} onValue={onValue} />;
  }
}

interface AmountProps {
  readonly hint: string;
  readonly field: Extract<FormField, { type: 'amount' }>;
  readonly value: number | undefined;
  readonly onValue: (value: number) => void;
  readonly onClear: () => void;
}

/** Counted in the reader's unit, by steps that are round in it; kept in the field's own. */
function Amount({ field, hint, value, onValue, onClear }: AmountProps) {
  const unit = shownUnit(field.unit, display.value);
  const own = unit === field.unit;
  const shown = (one: number): number => toShown(one, field.unit, display.value);
  const step = own ? field.step : 0.5;
  return (
    <Stepper
      label={`${field.label}, ${unit}`}
      {...(hint === '' ? {} : { hint })}
      value={value === undefined || own ? value : Number(shown(value).toFixed(2))}
      onValue={(typed) => {
        onValue(own ? typed : fromShown(typed, field.unit, display.value));
      }}
      onClear={onClear}
      step={step}
      first={own ? field.first : Math.round(shown(field.first) / step) * step}
      most={own ? field.most : Math.floor(shown(field.most))}
      words={quarters}
    />
  );
}
