/** This nuc's alerts that are over or building up; those that are raised stand at the top of its page. */
import { nucAlerts } from '../state/farm.ts';
import { AlertCard } from './alert-card.tsx';
import { ResourceView } from './resource-view.tsx';

export function NucAlerts({ id }: { id: string }) {
  return (
    <section class="card" aria-label="Alerts of this nuc">
      <h2>Earlier alerts</h2>
      <ResourceView of={nucAlerts(id)} what="the alerts">
        {(data) => {
          const others = data.items.filter((alert) => alert.phase !== 'raised');
          if (others.length === 0) return <p class="soft">None.</p>;
          return others.map((alert) => <AlertCard key={alert.id} alert={alert} />);
        }}
      </ResourceView>
    </section>
  );
}
