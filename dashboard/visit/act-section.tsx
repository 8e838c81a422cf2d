/** One act of a visit: its questions, for all nucs at once or each for itself. */
import type { ComponentChildren } from 'preact';
import type { FactKind } from '../api/facts.ts';
import { Caution } from '../parts/caution.tsx';
import { formFor } from './by-method.ts';
import { CellCounts } from './cell-counts.tsx';
import type { Draft } from './draft.ts';
import { answersOf, withEach, withShared } from './draft.ts';
import { BroodDrawing, CellDrawing } from './drawings.tsx';
import { Field } from './field.tsx';
import type { FormField } from './forms/fields.ts';
import { cellKeys } from './forms/fields.ts';
import { Question } from './question.tsx';
import { QueenNames } from './queen-names.tsx';
import type { RememberedNuc } from './remembered-nucs.ts';
import { askedOf } from './to-fact.ts';

interface ActSectionProps {
  readonly kind: FactKind;
  readonly nucs: readonly RememberedNuc[];
  readonly draft: Draft;
  readonly onDraft: (draft: Draft) => void;
  readonly onRemove?: (() => void) | undefined;
  /** Said before the title: that something is put right. */
  readonly before?: string;
}

export function ActSection({ kind, nucs, draft, onDraft, onRemove, before = '' }: ActSectionProps) {
  const form = formFor(kind, nucs[0]?.setup?.method);
  const rest = { kind, nucs, draft, onDraft };
  const asked = askedOf(form.fields, draft.shared[kind] ?? {});
  const shown = asked.filter(({ more }) => more !== true);
  const more = asked.filter((field) => field.more === true);
  return (
    <section class="act-section" aria-label={form.title}>
      <div class="row">
        <h2>
          {before}
          {form.title}
        </h2>
        {onRemove && (
          <button type="button" class="plain" onClick={onRemove}>
            Remove<span class="hidden-words">: {form.title}</span>
          </button>
        )}
      </div>
      {form.first && <Caution about={form.first} />}
      {(form.lookFor.length > 0 || form.cautions.length > 0) && (
        <details class="look-for">
          <summary>{form.cautions.length > 0 ? 'Take care' : 'Look for'}</summary>
          <ul>
            {form.lookFor.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
          {form.cautions.map((about) => (
            <Caution key={about} about={about} />
          ))}
        </details>
      )}
      <Fields {...rest} fields={shown} />
      {more.length > 0 && (
        <details class="more-fields">
          <summary>More seen</summary>
          <Fields {...rest} fields={more} />
        </details>
      )}
    </section>
  );
}

interface FieldsProps extends Omit<ActSectionProps, 'onRemove'> {
  /** Those that are asked. */
  readonly fields: readonly FormField[];
}

const isCell = ({ key }: FormField): boolean => cellKeys.includes(key);

function Fields({ fields, kind, nucs, draft, onDraft }: FieldsProps) {
  const counts = fields.filter(isCell);
  const own = fields.filter((field) => field.each === true && !isCell(field) && field.type !== 'queen');
  return (
    <>
      {fields.map((field) => {
        if (field.type === 'queen') {
          return (
            <Question key={field.key} kind={kind} keys={[field.key]}>
              <Queens {...{ kind, nucs, draft, onDraft }} />
            </Question>
          );
        }
        if (isCell(field)) {
          return field === counts[0] ? (
            <Question key={field.key} kind={kind} keys={cellKeys}>
              <CellCounts
                fields={counts}
                nucs={nucs}
                valuesOf={(one) => draft.each[one.id]?.[kind] ?? {}}
                onChange={(changes) => {
                  onDraft(
                    changes.reduce((so, { nucId, values }) => withEach(so, nucId, kind, values), draft),
                  );
                }}
              />
            </Question>
          ) : null;
        }
        if (field.each === true) return null;
        return (
          <Drawn key={field.key} kind={kind} field={field}>
            <Field
              field={field}
              value={draft.shared[kind]?.[field.key]}
              onValue={(value) => {
                onDraft(withShared(draft, kind, field.key, value));
              }}
            />
          </Drawn>
        );
      })}
      {own.length > 0 &&
        nucs.map((one) => <OfOne key={one.id} fields={own} {...{ one, nucs, kind, draft, onDraft }} />)}
    </>
  );
}

interface DrawnProps {
  readonly kind: FactKind;
  readonly field: FormField;
  readonly nucId?: string;
  readonly children: ComponentChildren;
}

function Drawn({ field, children, ...rest }: DrawnProps) {
  return (
    <Question {...rest} keys={[field.key]}>
      {field.drawing === 'brood' && <BroodDrawing />}
      {field.drawing === 'cells' && <CellDrawing />}
      {children}
    </Question>
  );
}

/** What each nuc has for itself, named where there are several. */
function OfOne({ one, fields, nucs, kind, draft, onDraft }: FieldsProps & { one: RememberedNuc }) {
  const questions = fields.map((field) => (
    <Drawn key={field.key} kind={kind} field={field} nucId={one.id}>
      <Field
        field={field}
        value={draft.each[one.id]?.[kind]?.[field.key]}
        onValue={(value) => {
          onDraft(withEach(draft, one.id, kind, { [field.key]: value }));
        }}
      />
    </Drawn>
  ));
  if (nucs.length === 1) return <>{questions}</>;
  return (
    <fieldset class="of-one">
      <legend>
        <bdi>{one.name}</bdi>
      </legend>
      {questions}
    </fieldset>
  );
}

function Queens({ kind, nucs, draft, onDraft }: Pick<FieldsProps, 'kind' | 'nucs' | 'draft' | 'onDraft'>) {
  return (
    <QueenNames
      nucs={nucs}
      queenOf={(one) => String(answersOf(draft, one, kind)['queenId'] ?? '')}
      onQueen={(one, queenId) => {
        onDraft(withEach(draft, one.id, kind, { queenId }));
      }}
    />
  );
}
