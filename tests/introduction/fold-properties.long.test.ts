/** The same at full size. */
import './fold-properties.test.ts';
