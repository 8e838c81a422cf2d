/** The same at full size. */
import './demo.test.ts';
