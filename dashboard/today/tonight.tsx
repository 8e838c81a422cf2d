/** Which nucs may chill tonight, with the forecast that says so and its age. */
import type { NucSummary } from '../../server/contract/nucs.ts';
import { byName } from '../format/names.ts';
import { count, temperature, temperatureWithin } from '../format/units.ts';
import { age } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { serverMinute } from '../state/live.ts';
import { display } from '../state/session.ts';
import { nightWords, possibleFrom } from './night-words.ts';

type Night = NonNullable<NucSummary['tonight']>;
interface Foreseen {
  readonly one: NucSummary;
  readonly night: Night;
}

const chanceOf = ({ night }: Foreseen): number => night.chanceBelow ?? 0;

export function Tonight({ items }: { items: readonly NucSummary[] }) {
  const running = items.filter((one) => one.day !== null && one.stage !== 'closed');
  const foreseen = running.flatMap((one) => (one.tonight ? [{ one, night: one.tonight }] : []));
  const cold = foreseen
    .filter((each) => chanceOf(each) >= possibleFrom)
    .sort((a, b) => chanceOf(b) - chanceOf(a) || byName(a.one.hive.name, b.one.hive.name));
  return (
    <section aria-label="Tonight">
      <h2>Tonight</h2>
      {cold.length === 0 && (
        <p>
          {foreseen.length === 0
            ? 'Not known: no brood sensor tells enough yet.'
            : `No nuc should chill (${String(foreseen.length)} of ${count(running.length, 'nuc')} foreseen).`}
        </p>
      )}
      {cold.length > 0 && (
        <ul class="lines">
          {cold.map((each) => (
            <li key={each.one.hive.id} class="line-row">
              <p>
                <a href={hashFor('nucs', each.one.hive.id)}>
                  <bdi>{each.one.hive.name}</bdi>
                </a>{' '}
                {nightWords(each.night, each.one.latest.brood)}
              </p>
              <p class="soft">
                lowest about{' '}
                <span class="unbroken">
                  {temperatureWithin(each.night.lowestC, each.night, display.value)},
                </span>{' '}
                <span class="unbroken">limit {temperature(each.night.limitC, display.value)}</span>
              </p>
            </li>
          ))}
        </ul>
      )}
      {foreseen.length > 0 && <Forecasts foreseen={foreseen} />}
    </section>
  );
}

/** A line a site where the forecasts differ. A nuc that does not follow the weather goes by its last nights all the same. */
function Forecasts({ foreseen }: { foreseen: readonly Foreseen[] }) {
  const nights = new Map<string, Night>();
  for (const { one, night } of foreseen)
    if (!nights.get(one.siteName)?.forecast) nights.set(one.siteName, night);
  const lines = new Map<string, string[]>();
  for (const [site, night] of nights) {
    const words = forecastWords(night);
    lines.set(words, [...(lines.get(words) ?? []), site]);
  }
  return (
    <>
      {[...lines].map(([words, sites]) => (
        <p key={words} class="soft">
          {lines.size > 1 && (
            <>
              <bdi>{sites.join(', ')}</bdi>:{' '}
            </>
          )}
          {words}
        </p>
      ))}
    </>
  );
}

function forecastWords({ forecast }: Night): string {
  if (!forecast) return 'No forecast: reckoned from the last nights.';
  const old = age(serverMinute.value - Date.parse(forecast.saidAt));
  return `${temperature(forecast.minC, display.value)} outside, forecast ${old} old.`;
}
