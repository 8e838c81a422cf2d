/** The spells of cold over a weak nuc at full size. */
import './one-thread-of-cold.test.ts';
