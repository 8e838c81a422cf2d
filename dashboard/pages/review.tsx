/** What did we learn. */
import { AfterRelease } from '../review/after-release.tsx';
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
      <AfterRelease />
      <OutcomesSection />
      <ReplaySection />
    </>
  );
}
