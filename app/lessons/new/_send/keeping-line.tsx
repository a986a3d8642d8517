import { Notice } from '@/app/_ui/notice';
import type { Keeping } from './draft-keeper';

/** Says what is not kept yet, and nothing while all is well. */
export const KeepingLine = ({ keeping }: { keeping: Keeping }) => {
  if (keeping.kind === 'refused') {
    return (
      <Notice kind="refused" title="The program could not keep your last change.">
        <p>{keeping.message} What you wrote is still on this page.</p>
      </Notice>
    );
  }
  return (
    <p className="small soft" role="status">
      {keeping.kind === 'kept-here'
        ? 'No network: kept on this device. It goes on by itself when the network is back.'
        : ''}
    </p>
  );
};
