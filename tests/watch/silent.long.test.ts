/** The same at full size. */
import './silent.test.ts';
