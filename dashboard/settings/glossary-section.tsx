/** All words of the trade and all cautions in one place. */
import { cautions } from '../words/cautions.ts';
import type { Word } from '../words/glossary.ts';
import { glossary, sourceOf, usualSource } from '../words/glossary.ts';

export function GlossarySection() {
  return (
    <section class="card" aria-label="Words and cautions">
      <h2>Words and cautions</h2>
      <details>
        <summary>Words of the trade</summary>
        <p class="soft">Source, where none is named: {usualSource}.</p>
        <dl class="facts">
          {(Object.keys(glossary) as Word[]).map((word) => (
            <div key={word}>
              <dt>{word}</dt>
              <dd>
                {glossary[word]}
                {sourceOf(word) !== usualSource && <span class="soft"> Source: {sourceOf(word)}.</span>}
              </dd>
            </div>
          ))}
        </dl>
      </details>
      <details>
        <summary>Cautions</summary>
        <ul>
          {Object.entries(cautions).map(([key, words]) => (
            <li key={key}>{words}</li>
          ))}
        </ul>
      </details>
    </section>
  );
}
