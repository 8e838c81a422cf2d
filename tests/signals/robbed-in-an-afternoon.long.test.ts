/** The same at full size. */
import './robbed-in-an-afternoon.test.ts';
