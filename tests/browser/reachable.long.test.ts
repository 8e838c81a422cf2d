/** The same at full size. */
import './reachable.test.ts';
