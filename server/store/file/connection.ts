/** Every connection to a file: what its schema calls is not trusted, for a backup may come from anywhere. */
import Database from 'better-sqlite3';

/** Throws what `better-sqlite3` throws. */
export function connection(file: string, options: Database.Options = {}): Database.Database {
  const db = new Database(file, options);
  try {
    db.pragma('trusted_schema = OFF');
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}
