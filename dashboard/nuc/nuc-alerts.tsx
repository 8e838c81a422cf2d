/** This nuc's alerts that are over or building up; those that are raised stand at the top of its page. */
import { nucAlerts } from '../state/farm.ts';
import { AlertFold } from '../alerts/alert-body.tsx';
import { ResourceView } from '../parts/resource-view.tsx';
import { isAboutTheLog } from '../alerts/top-level-alerts.ts';

export function NucAlerts({ id }: { id: string }) {
  return (
    <ResourceView of={nucAlerts(id)} what="the alerts">
      {(data) => {
        const others = data.items.filter((alert) => alert.phase !== 'raised' || isAboutTheLog(alert));
        if (others.length === 0) return <p class="soft">None.</p>;
        return others.map((alert) => <AlertFold key={alert.id} alert={alert} />);
      }}
    </ResourceView>
  );
}
