/** Every schema of this process words its faults plainly. */
import * as z from 'zod';
import { faultInWords } from './words/faults.ts';

z.config({ customError: faultInWords });
