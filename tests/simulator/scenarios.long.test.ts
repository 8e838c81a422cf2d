/** The same at full size. */
import './scenarios.test.ts';
