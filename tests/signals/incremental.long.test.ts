/** The same at full size. */
import './incremental.test.ts';
