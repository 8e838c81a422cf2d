/** What every rule found at its last evaluation, by subject. */
import type { RuleEvaluation } from '../rules/engine/evaluate.ts';
import { nucsOf } from '../rules/engine/suppression.ts';
import { groupBy } from '../group-by.ts';

export class LatestEvaluations {
  readonly #bySubject = new Map<string, readonly RuleEvaluation[]>();

  /** Takes all evaluations of each of their subjects; `everything`: there are no other subjects any more. */
  note(evaluations: readonly RuleEvaluation[], everything = false): void {
    if (everything) this.#bySubject.clear();
    for (const [subject, own] of groupBy(evaluations, (one) => `${one.subject.kind} ${one.subject.id}`))
      this.#bySubject.set(subject, own);
  }

  /** Of a nuc and of the sensors in and under it. */
  ofNuc(nucId: string): readonly RuleEvaluation[] {
    const own = this.#bySubject.get(`nuc ${nucId}`) ?? [];
    const ofSensors = [...this.#bySubject]
      .filter(([key]) => key.startsWith('channel ') || key.startsWith('device '))
      .flatMap(([, all]) => all.filter(({ subject }) => nucsOf(subject).includes(nucId)));
    return [...own, ...ofSensors];
  }

  /** By the alert's key. */
  byKey(): ReadonlyMap<string, RuleEvaluation> {
    return new Map([...this.#bySubject.values()].flat().map((one) => [one.key, one]));
  }
}
