import { Dialog } from '@/app/_ui/dialog';
import { TrimDialog } from './trim-dialog';
import type { Clips } from './use-clips';

/** What floats over the form: the cut of a clip, and the question before one is removed. */
export const ClipDialogs = ({ clips }: { clips: Clips }) => (
  <>
    {clips.trimming && (
      <TrimDialog
        file={clips.trimming.file}
        seconds={clips.trimming.seconds}
        onCut={clips.cut}
        onWhole={clips.trimming.canGoWhole ? clips.sendWhole : null}
        onClose={clips.stopTrimming}
      />
    )}
    <Dialog
      isOpen={clips.removing !== null}
      onClose={() => clips.askRemove(null)}
      title={`Remove clip ${clips.removing?.number ?? ''}?`}
      footer={
        <>
          <button type="button" className="btn" onClick={() => clips.askRemove(null)}>
            Keep it
          </button>
          <button type="button" className="btn do" onClick={clips.remove}>
            Remove it
          </button>
        </>
      }
    >
      <p>What went up already is thrown away. The film on your phone stays where it is.</p>
    </Dialog>
  </>
);
