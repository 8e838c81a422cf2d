declare module 'parse-prometheus-text-format' {
  /** Values are the text's own; labels are absent where there are none. */
  export default function parsePrometheusTextFormat(text: string): {
    readonly name: string;
    readonly metrics: readonly {
      readonly value: string;
      readonly labels?: Readonly<Record<string, string>>;
    }[];
  }[];
}
