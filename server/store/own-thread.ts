/** Threads of our own, from the built program and from a developer's checkout alike. */
import { Worker, type WorkerOptions } from 'node:worker_threads';

/** A thread of the module `name` beside the one whose `import.meta.url` is `here`; bundled modules lie side by side. */
export const threadBeside = (here: string, name: string, options: WorkerOptions): Worker =>
  here.endsWith('.ts')
    ? new Worker(throughLoader(new URL(`./${name}.ts`, here)), { ...options, eval: true })
    : new Worker(new URL(`./${name}.js`, here), options);

/** Node 20 reads no TypeScript by itself; only a developer's checkout runs from it. */
const throughLoader = ({ href }: URL): string =>
  `import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(href)}); });`;
