/** The same at full size. */
import './answer-properties.test.ts';
