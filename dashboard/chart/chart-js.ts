/** Only the parts of Chart.js that these charts use, with the site's calendar under its time axis. */
import {
  Chart,
  LineController,
  LineElement,
  LinearScale,
  PointElement,
  TimeScale,
  _adapters,
} from 'chart.js';
import { deviceZone } from '../format/when.ts';
import { evidencePlugin } from './evidence.ts';
import { add, axisFormats, axisWords, diff, endOf, startOf } from './time-adapter.ts';

interface WithZone {
  readonly zone?: string;
}
const zoneOf = (options: WithZone): string => options.zone ?? deviceZone();

_adapters._date.override<WithZone>({
  init: () => undefined,
  formats: () => ({ ...axisFormats }),
  parse: (value) => (typeof value === 'number' ? value : null),
  format(atMs, format) {
    return axisWords(atMs, format, zoneOf(this.options));
  },
  add(atMs, amount, unit) {
    return add(atMs, amount, unit, zoneOf(this.options));
  },
  diff: (a, b, unit) => diff(a, b, unit),
  startOf(atMs, unit) {
    return startOf(atMs, unit, zoneOf(this.options));
  },
  endOf(atMs, unit) {
    return endOf(atMs, unit, zoneOf(this.options));
  },
});

Chart.register(LineController, LineElement, PointElement, LinearScale, TimeScale, evidencePlugin);

export { Chart };
