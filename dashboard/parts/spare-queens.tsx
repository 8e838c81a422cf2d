/** On the page of a nuc that goes without: a queen of another delivery that has no nuc. */
import { count } from '../format/units.ts';
import { hashFor } from '../route.ts';
import { queens } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';

export function SpareQueens({ nucId }: { nucId: string }) {
  const nuc = useResource(queens)
    .data?.items.flatMap((one) => one.nucs)
    .find((one) => one.nucId === nucId);
  return (
    <>
      {(nuc?.spare ?? []).map((one) => (
        <p key={one.arrivalId} class="notice">
          {count(one.queens, 'queen')} of <bdi>{one.name}</bdi> {one.queens === 1 ? 'has' : 'have'} no nuc:
          see the <a href={hashFor('plan')}>plan</a>.
        </p>
      ))}
    </>
  );
}
