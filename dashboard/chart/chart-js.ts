/** Only the parts of Chart.js that these charts use. Time is a linear axis with the site's own calendar on it. */
import { Chart, LineController, LineElement, LinearScale, PointElement } from 'chart.js';
import { evidencePlugin } from './evidence.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale, evidencePlugin);

export { Chart };
