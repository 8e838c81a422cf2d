/** The night ahead for a nuc's brood, with the forecast that it rests on. */
import type { NucSummary } from '../../contract/nucs.ts';
import { iso } from '../../farm/wire.ts';
import type { ChillOutlook, Forecast } from '../../signals/types.ts';

/** Null where the night can't be foreseen. `forecast` is told only where the outlook went by it. */
export function tonightToWire(
  { tonightMinC, limitC, chanceBelow, forecast: wentBy }: ChillOutlook,
  forecast: Forecast | undefined,
): NucSummary['tonight'] {
  if (!tonightMinC.ok) return null;
  const { value, low, high } = tonightMinC;
  const saidAtMs = forecast?.saidAtMs;
  return {
    lowestC: value,
    lowC: low,
    highC: high,
    limitC,
    chanceBelow,
    forecast:
      wentBy === 'told' && forecast && saidAtMs !== undefined
        ? { source: forecast.source, minC: forecast.minC, saidAt: iso(saidAtMs) }
        : null,
  };
}
