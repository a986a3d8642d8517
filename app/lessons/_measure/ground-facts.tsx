import { Notice } from '@/app/_ui/notice';
import type { Calibrated } from '@/lib/domain/measures/calibrate';
import { cameraWords, whatCarries } from './camera-words';

const FEWEST = 4;

/** What the corners say: where the camera stands and what it can carry, or why the ground was not found. */
export const GroundFacts = ({ calibrated, count }: { calibrated: Calibrated | null; count: number }) => {
  if (!calibrated || count < FEWEST) {
    return (
      <p className="small" role="status">
        {count === 0 ? 'No corner is set yet.' : `${count} set.`} Four are needed, more are better.
      </p>
    );
  }
  if (!calibrated.ok) {
    return (
      <Notice kind="refused" title="The ground was not found">
        <p>{calibrated.sentence}</p>
      </Notice>
    );
  }
  const { measured, estimate, refused } = whatCarries(calibrated.facts.azimuth);
  return (
    <Notice kind="done" title="The ground is found">
      <p data-camera>The camera filmed {cameraWords(calibrated.facts)}.</p>
      <p className="small">Corners fit within {calibrated.rms.toFixed(1)} pixels.</p>
      <p className="small">From here: {measured.join(', ') || 'nothing'} can be measured.</p>
      {estimate.length > 0 ? <p className="small">Only estimated: {estimate.join(', ')}.</p> : null}
      {refused.length > 0 ? <p className="small">Not from here: {refused.join(', ')}.</p> : null}
    </Notice>
  );
};
