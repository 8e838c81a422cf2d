/** The same at full size. */
import './ingest-kill.test.ts';
