/** The same at full size. */
import './oracle.test.ts';
