/**
 * Sets the JavaScript engine for work of seconds that keeps all cores busy: its own helpers, the compiler and the collector,
 * share the cores with that work, and by their usual measure took a third of them. Imported before the work and its threads begin.
 */
import { setFlagsFromString } from 'node:v8';

const flags = [
  // A function is looked at for optimising when it has run about seven times as long as usual.
  '--interrupt-budget=500000',
  // Until then it is not interpreted: plain machine code is made of it at once, at next to no cost.
  '--always-sparkplug',
  // Optimising takes two thirds of the time where less is put into one function, and the code is hardly slower.
  '--max-inlined-bytecode-size-cumulative=300',
  '--no-turbo-loop-peeling',
  // A thread sweeps up after itself: helpers that divide it up take more of the processor, and there is no core for them.
  '--no-parallel-scavenge',
];
for (const flag of flags) setFlagsFromString(flag);
