import type { NucSummary } from '../../server/contract/nucs.ts';

/** What can be done with a nuc whose queen is lost. */
export const queenLostWords = ({ diseaseSigns }: Pick<NucSummary, 'diseaseSigns'>): string =>
  diseaseSigns ? 'Call the bee inspector first' : 'Give it another queen, or unite it';
