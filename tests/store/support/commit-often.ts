/** `commit-often.ts FILE TIMES`: one reading a commit. */
import { openStore } from '../../../server/store/store.ts';
import { commit, may1, reading } from './made-up.ts';

const [file = '', times = '0'] = process.argv.slice(2);
const store = openStore({ file });
for (let i = 0; i < Number(times); i += 1) commit(store, reading(may1 + i, i));
store.close();
