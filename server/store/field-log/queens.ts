/** Queens on order and arrived: deliveries, and single queens where the keeper tells them apart. */
import type { Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';

export type ArrivalState = 'ordered' | 'delayed' | 'arrived' | 'cancelled';

export interface Arrival {
  readonly id: string;
  readonly name: string;
  /** Breeder or line, in the keeper's words. */
  readonly source: string;
  /** Calendar day, YYYY-MM-DD. */
  readonly expected: string;
  readonly queens: number;
  readonly state: ArrivalState;
  readonly arrived?: string;
  readonly dead: number;
  readonly note?: string;
}

export interface Queen {
  readonly id: string;
  readonly arrivalId?: string;
  readonly source: string;
  readonly line: string;
  readonly note?: string;
}

interface ArrivalRow extends Omit<Arrival, 'arrived' | 'note'> {
  readonly arrived: string | null;
  readonly note: string | null;
  readonly assigned: number;
}

interface QueenRow {
  readonly id: string;
  readonly arrival_id: string | null;
  readonly source: string;
  readonly line: string;
  readonly note: string | null;
}

export interface Queens {
  /** By expected day; `assigned` counts the introductions that wait for it. */
  arrivals(): (Arrival & { readonly assigned: number })[];
  arrival(id: string): (Arrival & { readonly assigned: number }) | undefined;
  putArrival(arrival: Arrival): Arrival;
  queens(): Queen[];
  queen(id: string): Queen | undefined;
  /** Throws `StoreConflict` for an unknown arrival. */
  putQueen(queen: Queen): Queen;
}

const toArrival = ({ arrived, note, ...row }: ArrivalRow): Arrival & { assigned: number } => ({
  ...row,
  ...(arrived === null ? {} : { arrived }),
  ...(note === null ? {} : { note }),
});

const toQueen = (row: QueenRow): Queen => ({
  id: row.id,
  source: row.source,
  line: row.line,
  ...(row.arrival_id === null ? {} : { arrivalId: row.arrival_id }),
  ...(row.note === null ? {} : { note: row.note }),
});

const withAssigned =
  'SELECT arrival.*, (SELECT count(*) FROM introduction WHERE arrival_id = arrival.id) AS assigned FROM arrival';

export function queens(context: Context): Queens {
  const { db } = context;
  const arrivals = db.prepare<[], ArrivalRow>(`${withAssigned} ORDER BY expected, id`);
  const oneArrival = db.prepare<[string], ArrivalRow>(`${withAssigned} WHERE id = ?`);
  const putArrival = db.prepare(
    `INSERT INTO arrival (id, name, source, expected, queens, state, arrived, dead, note)
     VALUES (@id, @name, @source, @expected, @queens, @state, @arrived, @dead, @note)
     ON CONFLICT (id) DO UPDATE SET name = excluded.name, source = excluded.source, expected = excluded.expected,
       queens = excluded.queens, state = excluded.state, arrived = excluded.arrived, dead = excluded.dead,
       note = excluded.note`,
  );
  const allQueens = db.prepare<[], QueenRow>('SELECT * FROM queen ORDER BY id');
  const oneQueen = db.prepare<[string], QueenRow>('SELECT * FROM queen WHERE id = ?');
  const putQueen = db.prepare(
    `INSERT INTO queen (id, arrival_id, source, line, note) VALUES (?, ?, ?, ?, ?)
     ON CONFLICT (id) DO UPDATE SET arrival_id = excluded.arrival_id, source = excluded.source,
       line = excluded.line, note = excluded.note`,
  );

  return {
    arrivals: () => arrivals.all().map(toArrival),
    arrival(id) {
      const row = oneArrival.get(id);
      return row && toArrival(row);
    },
    putArrival(arrival) {
      context.write(() =>
        putArrival.run({ ...arrival, arrived: arrival.arrived ?? null, note: arrival.note ?? null }),
      );
      return arrival;
    },
    queens: () => allQueens.all().map(toQueen),
    queen(id) {
      const row = oneQueen.get(id);
      return row && toQueen(row);
    },
    putQueen(queen) {
      const { id, arrivalId, source, line, note } = queen;
      context.write(() => {
        if (arrivalId !== undefined && !oneArrival.get(arrivalId)) {
          throw new StoreConflict(`There is no delivery ${arrivalId} that the queen ${id} could come from.`);
        }
        putQueen.run(id, arrivalId ?? null, source, line, note ?? null);
      });
      return queen;
    },
  };
}
