/** The same at full size. */
import './signals-temperature.test.ts';
