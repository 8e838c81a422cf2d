/**
 * What the forms ask and say where the queen goes in under a mesh: nothing of candy, which her cage does not have, and
 * whether eggs stand outside it.
 */
import type { FactKind, IntroductionMethod } from '../api/facts.ts';
import { eggsOutsideMesh, type Form } from './forms/fields.ts';
import { forms, kindsInOrder } from './forms/index.ts';

const hungUnderMesh: Pick<Form, 'title' | 'lookFor'> = {
  title: 'Mesh pressed over her',
  lookFor: [
    'Over emerging brood with some open honey, no bees shut in but young ones.',
    'The rim pressed to the midrib all round: no gap.',
  ],
};
const lifted = 'Say whether she walks on the comb.';

/** The form of a kind of fact in a nuc of this method; of any method while it is not known. */
export function formFor(kind: FactKind, method: IntroductionMethod | undefined): Form {
  const form = forms[kind];
  if (method === 'candy-cage')
    return { ...form, fields: form.fields.filter(({ key }) => key !== eggsOutsideMesh.key) };
  if (method !== 'push-in-cage') return form;
  if (kind === 'inspection' || kind === 'cells-cut') {
    const fields = form.fields.map((field) =>
      field.key === 'youngestBrood' ? { ...field, hint: 'but for her eggs under the mesh' } : field,
    );
    return { ...form, fields };
  }
  if (kind === 'cage-taken-out') {
    return {
      ...form,
      title: 'Mesh lifted',
      fields: form.fields.map((field) => (field.key === 'queen' ? { ...field, needed: lifted } : field)),
    };
  }
  if (kind !== 'cage-hung') return form;
  const fields = form.fields.filter(({ key }) => key !== 'candyEnd');
  return { ...form, ...hungUnderMesh, fields, given: { candyEnd: 'closed' } };
}

export const kindsFor = (method: IntroductionMethod | undefined): readonly FactKind[] =>
  method === 'push-in-cage' ? kindsInOrder.filter((kind) => kind !== 'candy-opened') : kindsInOrder;
