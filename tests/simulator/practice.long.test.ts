/** The same at full size. */
import './practice.test.ts';
