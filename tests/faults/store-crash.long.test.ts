/** The same at full size. */
import './store-crash.test.ts';
