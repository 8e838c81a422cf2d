/** Whether a database has exactly the schema that the migrations up to its version make. */
import type Database from 'better-sqlite3';
import { connection } from '../file/connection.ts';
import { migrations, schemaOf } from '../migrate.ts';

interface SchemaObject {
  readonly type: string;
  readonly name: string;
  readonly tbl_name: string;
  /** Null for an index that a constraint made. */
  readonly sql: string | null;
}

/** The first difference from a freshly made database of the same version, as part of a sentence; undefined where there is none. */
export function schemaDifference(db: Database.Database): string | undefined {
  const version = schemaOf(db);
  const newest = migrations.at(-1)?.version ?? 0;
  if (version > newest)
    return `it was written by a newer version of this program (schema ${String(version)}, known up to ${String(newest)})`;
  if (!migrations.some((step) => step.version === version))
    return `its schema ${String(version)} is none that this program ever made`;
  const expected = objectsOf(freshDatabase(version));
  const found = objectsOf(db);
  for (const [key, object] of found) {
    const same = expected.get(key);
    if (!same) return `it has ${described(object)}, which no version of this program makes`;
    if (same.tbl_name !== object.tbl_name || same.sql !== object.sql)
      return `${described(object)} is not as this program makes it`;
  }
  const missing = [...expected].find(([key]) => !found.has(key));
  return missing && `${described(missing[1])} is missing`;
}

const fresh = new Map<number, Database.Database>();

/** In memory; one a version. */
function freshDatabase(version: number): Database.Database {
  const made = fresh.get(version);
  if (made) return made;
  const db = connection(':memory:');
  for (const step of migrations) if (step.version <= version) db.exec(step.sql);
  fresh.set(version, db);
  return db;
}

function objectsOf(db: Database.Database): Map<string, SchemaObject> {
  const objects = db
    .prepare<[], SchemaObject>('SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name')
    .all();
  return new Map(objects.map((object) => [`${object.type} ${object.name}`, object]));
}

const described = ({ type, name }: SchemaObject): string => `the ${type} "${name}"`;
