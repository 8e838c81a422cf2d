/**
 * What `npm start` and a supervisor run. The heap flags are set before anything else is loaded:
 * a bundler moves what is imported to where it likes, but not across an `await`.
 */
import './process/private-umask.ts';
import './process/heap-flags.ts';

await import('./serve.ts');
