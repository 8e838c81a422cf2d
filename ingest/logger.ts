/** What ingest asks of a logger; pino's shape. */
export interface IngestLogger {
  info(details: object, sentence: string): void;
  warn(details: object, sentence: string): void;
  error(details: object, sentence: string): void;
}
