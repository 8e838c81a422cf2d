/** The same at full size. */
import './again-and-again.test.ts';
