/** What did we learn. */
import { AfterRelease } from '../review/after-release.tsx';
import { Fold } from '../parts/fold.tsx';
import { BatchSection } from '../review/batch-review.tsx';
import { OutcomesSection } from '../review/outcomes.tsx';
import { ReplaySection } from '../review/replay.tsx';

export default function Review() {
  return (
    <>
      <header class="page-head">
        <h1>Review</h1>
      </header>
      <BatchSection />
      <OutcomesSection />
      <div>
        <Fold title="After release">
          <AfterRelease />
        </Fold>
        <Fold title="Replay" note="with another limit">
          <ReplaySection />
        </Fold>
      </div>
    </>
  );
}
