/** The same at full size. */
import './hostile.test.ts';
