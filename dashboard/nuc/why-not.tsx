/** Every rule's last evaluation for this nuc: why it raises an alert, and why it does not. */
import type { EvaluationDto } from '../../server/contract/alerts.ts';
import { call } from '../api/client.ts';
import { dayAndTime } from '../format/when.ts';
import { serverMinute } from '../state/live.ts';
import { resourceFamily } from '../state/resource.ts';
import { ResourceView } from '../parts/resource-view.tsx';

const evaluations = resourceFamily((id) => call('listEvaluations', { params: { id } }), {
  changedBy: ({ type, id: about }, id) => type === 'alert' || (type === 'nuc' && about === id),
});

const verdictWords = {
  yes: 'raised',
  no: 'quiet',
  'no-data': 'no data to tell',
  'not-applicable': 'not at this stage',
} as const;

export function WhyAndWhyNot({ id, zone }: { id: string; zone: string }) {
  return (
    <>
      <p class="soft">Every rule, with what it last saw here.</p>
      <ResourceView of={evaluations(id)} what="the rules">
        {(data) => (
          <ul class="evaluations">
            {data.items.map((one) => (
              <Evaluation key={one.ruleId} one={one} zone={zone} />
            ))}
          </ul>
        )}
      </ResourceView>
    </>
  );
}

const metWords = (met: boolean | null): string => (met === null ? 'not known' : met ? 'met' : 'not met');

function Evaluation({ one, zone }: { one: EvaluationDto; zone: string }) {
  return (
    <li>
      <details>
        <summary>
          <b>{one.title}</b> <span class="verdict">{verdictWords[one.verdict]}</span>
        </summary>
        <p>{one.about}</p>
        {one.quietBecause !== undefined && <p class="notice">{one.quietBecause}</p>}
        {one.conditions.length > 0 && <Conditions one={one} />}
        <p class="soft">Looked at {dayAndTime(Date.parse(one.at), zone, serverMinute.value)}.</p>
      </details>
    </li>
  );
}

function Conditions({ one }: { one: EvaluationDto }) {
  return (
    <div class="scroll-x" tabIndex={0} role="region" aria-label={`Conditions of ${one.title}`}>
      <table>
        <thead>
          <tr>
            <th scope="col">condition</th>
            <th scope="col">is</th>
            <th scope="col">limit</th>
            <th scope="col">met</th>
          </tr>
        </thead>
        <tbody>
          {one.conditions.map((condition) => (
            <tr key={condition.name}>
              <th scope="row">{condition.name}</th>
              <td>{condition.value}</td>
              <td>{condition.limit}</td>
              <td>{metWords(condition.met)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
