/** Who is signed in. */
import { call } from '../api/client.ts';
import { Act } from '../parts/act.tsx';
import { loadMe, me } from '../state/session.ts';
import { roleWords } from '../words/labels.ts';
import { keep } from '../state/preferences.ts';

export function You() {
  const now = me.value;
  if (now?.signedIn !== true || now.role === null) return null;
  return (
    <section class="card" aria-label="You">
      <h2>You</h2>
      <p>
        <bdi>{now.name}</bdi>, {roleWords[now.role]}
      </p>
      <Act
        run={async () => {
          await call('signOut', {});
          keep('welcomb.nucs', '[]');
          await loadMe();
        }}
      >
        Sign out
      </Act>
    </section>
  );
}
