/** The same at full size. */
import './past-sensors.test.ts';
