/** The slow ones too. */
import './redteam.test.ts';
