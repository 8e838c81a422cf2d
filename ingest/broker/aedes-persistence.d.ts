/** The package types this file of its, and does not say where. */
declare module 'aedes-persistence/asyncPersistence.js' {
  // oxlint-disable-next-line typescript/no-require-imports -- it is exported so
  import MemoryPersistence = require('aedes-persistence/types/asyncPersistence');
  export = MemoryPersistence;
}
