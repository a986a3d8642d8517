'use client';

import { useRef, useState, useTransition } from 'react';
import { v4 as uuid } from 'uuid';
import { answerOf } from '@/app/_ui/answer-of';
import { ChoiceGroup } from '@/app/_ui/choice-group';
import { Notice } from '@/app/_ui/notice';
import { clipTools } from '@/app/lessons/new/_send/clip-tools';
import { ClipPreview } from '@/app/lessons/new/_send/clip-preview';
import { PickButtons } from '@/app/lessons/new/_send/pick-buttons';
import { lengthWords, sizeWords } from '@/app/lessons/new/_send/size-words';
import { TrimDialog } from '@/app/lessons/new/_send/trim-dialog';
import { troubleWords } from '@/app/lessons/new/_send/trouble-words';
import type { Drill } from '@/lib/domain/drills/drill';
import { CLIP_SHOWS, SHOWS_CHOICE, WHO_MAY_BE_SHOWN, type ClipShows } from '@/lib/domain/drills/drill-clip';
import type { ClipId, PersonId } from '@/lib/domain/shared/ids';
import { addDrillClipAction } from '../actions';

type Picked = { file: File; seconds: number; isTooLong: boolean; captureRate: number | null };
type Props = { drill: Drill; viewerId: PersonId; onDone: () => void; onCancel: () => void };

const LOST = 'The connection is lost. Your film is still on this device; press again.';
/** Says who is in a clip, picks it, cuts it if that helps, and sends it. */
export const AddClip = ({ drill, viewerId, onDone, onCancel }: Props) => {
  // One id for one film: a repeat after a lost answer is the same clip.
  const clipId = useRef(uuid() as ClipId);
  const [shows, setShows] = useState<ClipShows | null>(null);
  const [picked, setPicked] = useState<Picked | null>(null);
  const [isCutting, setCutting] = useState(false);
  const [isLooking, setLooking] = useState(false);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isMissing, setMissing] = useState(false);
  const [isBusy, start] = useTransition();

  const take = async (file: File): Promise<string | null> => {
    const look = await clipTools(viewerId).look(file);
    if (!look.ok) return look.reason;
    const { seconds, isTooLong, captureRate } = look;
    setPicked((before) => ({
      file,
      seconds,
      isTooLong,
      captureRate: captureRate ?? before?.captureRate ?? null,
    }));
    return null;
  };
  const pick = async ([file]: File[]) => {
    if (!file) return;
    setPicked(null);
    setLooking(true);
    setRefusal(await take(file).catch(troubleWords));
    setLooking(false);
  };
  const cut = async (from: number, to: number): Promise<string | null> => {
    if (!picked) return null;
    try {
      const reason = await take(await clipTools(viewerId).cut(picked.file, picked.file.name, from, to));
      if (!reason) setCutting(false);
      return reason;
    } catch (error) {
      return troubleWords(error);
    }
  };
  const send = () => {
    setMissing(shows === null);
    if (!picked || shows === null) return;
    start(async () => {
      const { file, captureRate } = picked;
      const facts = { clipId: clipId.current, drillId: drill.id, shows, captureRate };
      const answer = await answerOf(addDrillClipAction(facts), LOST);
      if (!answer.ok) return setRefusal(answer.message);
      try {
        await clipTools(viewerId).sender.add({ clipId: clipId.current, lessonId: null, file });
        onDone();
      } catch (error) {
        setRefusal(troubleWords(error));
      }
    });
  };
  return (
    <div className="stack tight" role="group" aria-label={`A clip for ${drill.title}`}>
      <p>{WHO_MAY_BE_SHOWN}</p>
      <p className="small">
        When it is ready it becomes a new version of the drill. Lessons that gave the drill before keep it
        without.
      </p>
      <ChoiceGroup
        name={`shows-${drill.id}`}
        legend="Who is in it?"
        columns="three"
        value={shows}
        onChange={setShows}
        error={isMissing && shows === null ? 'Say who is in it.' : null}
        choices={CLIP_SHOWS.map((one) => ({ value: one, label: SHOWS_CHOICE[one] }))}
      />
      {picked ? (
        <>
          <ClipPreview file={picked.file} number={1} />
          <p className="small num">
            {lengthWords(picked.seconds)}, {sizeWords(picked.file.size)}
            {picked.isTooLong ? '. This is more than a clip may be: cut it.' : ''}
          </p>
        </>
      ) : null}
      <PickButtons
        isFirst={picked === null}
        left={1}
        another="Pick another clip"
        onPick={(files) => void pick(files)}
      />
      {isLooking ? <p role="status">Looking into the file.</p> : null}
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      <p className="acts">
        {picked ? (
          <>
            <button type="button" className="btn do" onClick={send} disabled={isBusy || picked.isTooLong}>
              Send the clip
            </button>
            <button type="button" className="btn" onClick={() => setCutting(true)}>
              Cut it
            </button>
          </>
        ) : null}
        <button type="button" className="btn quiet" onClick={onCancel}>
          Leave it
        </button>
      </p>
      {picked && isCutting ? (
        <TrimDialog
          file={picked.file}
          seconds={picked.seconds}
          onCut={cut}
          onWhole={picked.isTooLong ? null : () => setCutting(false)}
          onClose={() => setCutting(false)}
        />
      ) : null}
    </div>
  );
};
