/** The same at full size. */
import './commands.test.ts';
