/** The same at full size. */
import './levels.test.ts';
