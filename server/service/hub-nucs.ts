/** The nucs as they are published over MQTT to a home-automation hub. */
import type { NucForHub } from '../notify/mqtt.ts';
import { stageFacts } from '../watch/stage-facts.ts';
import type { Watch } from '../watch/watch.ts';

export function nucsForHub(watch: Watch, nowMs: number): NucForHub[] {
  return watch.where(nowMs).nucs.flatMap(({ id, name }) => {
    const analysis = watch.analysis(id, nowMs);
    if (!analysis) return [];
    const { site } = analysis;
    return [
      {
        id,
        name,
        siteName: site.name,
        timeZone: site.timeZone,
        stage: stageFacts(analysis)?.words ?? 'no introduction',
      },
    ];
  });
}
