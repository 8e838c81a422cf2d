/** The same at full size. */
import './real-hives.test.ts';
