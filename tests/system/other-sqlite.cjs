// Loaded before all else under another Node: the SQLite module that was compiled for it, and not the installed one.
/* global process */
const load = process.dlopen;
process.dlopen = (module, file, ...rest) => {
  const addon = process.env.SQLITE_ADDON;
  load.call(process, module, addon && file.endsWith('better_sqlite3.node') ? addon : file, ...rest);
};
