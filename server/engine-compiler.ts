/**
 * Lets the JavaScript engine compile seldomer, and better informed. Work of seconds that keeps all cores busy shares them with
 * the compiler, which by its own measure took a third of them. Imported before the work begins.
 */
import { setFlagsFromString } from 'node:v8';

// A function is looked at for optimising when it has run about seven times as long as usual.
setFlagsFromString('--interrupt-budget=500000');
// Until then it is not interpreted: plain machine code is made of it at once, at next to no cost.
setFlagsFromString('--always-sparkplug');
