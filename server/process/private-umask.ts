/** What this program makes is for its own user alone. Imported before anything that makes a file. */
process.umask(0o077);
