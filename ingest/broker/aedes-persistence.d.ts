/** The package types this file of its, and does not say where. */
declare module 'aedes-persistence/asyncPersistence.js' {
  import MemoryPersistence = require('aedes-persistence/types/asyncPersistence');
  export = MemoryPersistence;
}
