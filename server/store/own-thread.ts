/** Threads of our own, from the built program and from a developer's checkout alike. */
import { Worker } from 'node:worker_threads';

/** A thread of the module `name` beside the one whose `import.meta.url` is `here`; bundled modules lie side by side. */
export const threadBeside = (here: string, name: string, workerData: unknown): Worker =>
  here.endsWith('.ts')
    ? new Worker(throughLoader(new URL(`./${name}.ts`, here)), { eval: true, workerData })
    : new Worker(new URL(`./${name}.js`, here), { workerData });

/** Node 20 reads no TypeScript by itself; only a developer's checkout runs from it. */
const throughLoader = ({ href }: URL): string =>
  `import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(href)}); });`;
