/** On the page of a nuc that goes without a queen: that none is left, and where one without a nuc may be. */
import type { NucForQueen } from '../../server/contract/plan.ts';
import { count } from '../format/units.ts';
import { hashFor } from '../route.ts';
import { queens } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';

/** The nuc among those that a delivery has no queen left for. */
export function useGoesWithout(nucId: string): NucForQueen | undefined {
  return useResource(queens)
    .data?.items.filter(({ arrivalId }) => arrivalId !== null)
    .flatMap(({ nucs }) => nucs)
    .find((one) => one.nucId === nucId && one.order === null);
}

export function SpareQueens({ nucId }: { nucId: string }) {
  const all = useResource(queens).data?.items.flatMap(({ nucs }) => nucs) ?? [];
  const spare = all.find((one) => one.nucId === nucId)?.spare ?? [];
  const without = useGoesWithout(nucId);
  const plan = <a href={hashFor('plan')}>plan</a>;
  return (
    <>
      {without && spare.length === 0 && (
        <p class="notice">No queen is left for it: the {plan} says what can be done.</p>
      )}
      {spare.map((one) => (
        <p key={one.arrivalId} class="notice">
          {count(one.queens, 'queen')} of <bdi>{one.name}</bdi> {one.queens === 1 ? 'has' : 'have'} no nuc:
          see the {plan}.
        </p>
      ))}
    </>
  );
}
