/** What is done on a visit outside any introduction. */
export const hiveVisitKinds = ['looked-in', 'fed', 'frames-taken', 'frames-given', 'moved', 'other'] as const;
export type HiveVisitKind = (typeof hiveVisitKinds)[number];
