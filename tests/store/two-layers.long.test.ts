/** The same at full size. */
import './two-layers.test.ts';
