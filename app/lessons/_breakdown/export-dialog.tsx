'use client';

import { useEffect, useRef, useState } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { ChoiceGroup } from '@/app/_ui/choice-group';
import { Dialog } from '@/app/_ui/dialog';
import { Notice } from '@/app/_ui/notice';
import { Progress } from '@/app/_ui/progress';
import { cancelExportAction, noteExportAction, requestExportAction } from '@/app/lessons/breakdown-actions';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { ExportId } from '@/lib/domain/shared/ids';
import type { CaptionsIn } from '@/lib/review/export/export-breakdown';
import { isAbort } from '@/lib/review/media/frame-source';
import { fileNameOf, makeFileHere } from './make-file';
import { loadBreakdown } from './open-breakdown';
import { useExportWatch } from './use-export-watch';

type Props = {
  isOpen: boolean;
  onClose: () => void;
  breakdown: BreakdownOnPage;
  clips: readonly ClipOnPage[];
  checklist: Checklist;
  title: string;
};

type Stage =
  | { is: 'asking' }
  | { is: 'here'; done: number }
  | { is: 'there'; exportId: ExportId }
  | { is: 'made'; url: string }
  | { is: 'refused'; sentence: string; canAskProgram: boolean };

const HOW: Record<CaptionsIn, string> = {
  burnt: 'In the picture',
  track: 'As subtitles to turn on',
  none: 'None',
};

/** One file of a breakdown, for those who need one: made in this browser, or by the program where it cannot. */
export const ExportDialog = ({ isOpen, onClose, breakdown, clips, checklist, title }: Props) => {
  const hasCaptions = breakdown.captions.vtt !== '' || !breakdown.hasVoice;
  const [how, setHow] = useState<CaptionsIn>(hasCaptions ? 'burnt' : 'none');
  const [stage, setStage] = useState<Stage>({ is: 'asking' });
  const stop = useRef<AbortController | null>(null);
  const made = stage.is === 'made' ? stage.url : null;
  useEffect(() => () => stop.current?.abort(), []);
  useEffect(() => (made?.startsWith('blob:') ? () => URL.revokeObjectURL(made) : undefined), [made]);
  const watched = useExportWatch(breakdown.id, stage.is === 'there' ? stage.exportId : null);
  const name = fileNameOf(title);

  const makeHere = async () => {
    const aborter = new AbortController();
    stop.current = aborter;
    setStage({ is: 'here', done: 0 });
    try {
      const answer = await noteExportAction({ breakdownId: breakdown.id, captions: how });
      if (!answer.ok) return setStage({ is: 'refused', sentence: answer.message, canAskProgram: false });
      const loaded = await loadBreakdown(breakdown, clips, checklist, aborter.signal);
      const blob = await makeFileHere({
        breakdown,
        loaded,
        clips,
        how,
        signal: aborter.signal,
        onProgress: (done) => setStage({ is: 'here', done }),
      });
      setStage({ is: 'made', url: URL.createObjectURL(blob) });
    } catch (error) {
      if (isAbort(error) || aborter.signal.aborted) return setStage({ is: 'asking' });
      setStage({
        is: 'refused',
        sentence:
          error instanceof CagepostError
            ? error.forPeople
            : 'The file could not be made here. The breakdown itself is as it was.',
        canAskProgram: !(error instanceof CagepostError && error.fault === 'conflict'),
      });
    }
  };
  const askProgram = async () => {
    const exportId = crypto.randomUUID() as ExportId;
    const answer = await answerOf(
      requestExportAction({ exportId, breakdownId: breakdown.id, captions: how }),
      'The connection is lost. Try again in a moment.',
    );
    if (answer.ok) return setStage({ is: 'there', exportId });
    setStage({
      is: 'refused',
      sentence: answer.message,
      canAskProgram: true,
    });
  };
  const cancel = () => {
    stop.current?.abort();
    if (stage.is === 'there') void cancelExportAction({ exportId: stage.exportId });
    setStage({ is: 'asking' });
  };
  const isWorking = stage.is === 'here' || (stage.is === 'there' && !watched?.url && !watched?.fault);
  return (
    <Dialog
      isOpen={isOpen}
      onClose={() => {
        if (isWorking) cancel();
        onClose();
      }}
      title="Make a video file of it"
      footer={
        isWorking ? (
          <button type="button" className="btn" onClick={cancel}>
            Stop making it
          </button>
        ) : (
          <button type="button" className="btn do" onClick={() => void makeHere()}>
            {stage.is === 'asking' ? 'Make the file' : 'Make it again'}
          </button>
        )
      }
    >
      <div className="stack tight">
        <p>
          The lesson page is sharper and can be stopped anywhere. A file is for those who cannot open it.
          Whoever has the file can pass it on, so mind who gets it; that it was made is written down.
        </p>
        {hasCaptions && !isWorking ? (
          <ChoiceGroup
            legend="Captions"
            name="how"
            columns="three"
            value={how}
            onChange={setHow}
            choices={(['burnt', 'track', 'none'] as const)
              .filter((one) => one !== 'track' || breakdown.captions.vtt !== '')
              .map((value) => ({ value, label: HOW[value] }))}
          />
        ) : null}
        {stage.is === 'here' ? (
          <Progress
            label="Making the file"
            done={stage.done}
            words={
              stage.done === 0
                ? 'Getting the voice ready'
                : `${Math.floor(stage.done * 100)} % done, here on this device`
            }
          />
        ) : null}
        {stage.is === 'there' && isWorking ? (
          <Progress
            label="Making the file"
            done={(watched?.progress ?? 0) / 100}
            words={`${watched?.progress ?? 0} % done. The program makes it; you can close this page and come back.`}
          />
        ) : null}
        {stage.is === 'there' && watched?.fault ? <Notice kind="refused">{watched.fault}</Notice> : null}
        {stage.is === 'refused' ? (
          <Notice kind="refused">
            <p>{stage.sentence}</p>
            {stage.canAskProgram ? (
              <p className="acts">
                <button type="button" className="btn small" onClick={() => void askProgram()}>
                  Let the program make it
                </button>
              </p>
            ) : null}
          </Notice>
        ) : null}
        {(made ?? watched?.url) ? (
          <Notice kind="done">
            <p>The file is ready.</p>
            <p className="acts">
              <a className="btn" href={made ?? watched?.url ?? ''} download={name}>
                Keep the file
              </a>
            </p>
          </Notice>
        ) : null}
      </div>
    </Dialog>
  );
};
