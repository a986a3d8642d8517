'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Dialog } from '@/app/_ui/dialog';
import { Notice } from '@/app/_ui/notice';
import { GroundDrawing } from '@/app/practice/_practice/ground-drawing';
import css from '@/app/practice/_practice/practice.module.css';
import { STAGE_WORD } from '@/lib/domain/drills/dose';
import type { Drill } from '@/lib/domain/drills/drill';
import type { DrillClip } from '@/lib/domain/drills/drill-clip';
import type { PersonId } from '@/lib/domain/shared/ids';
import { retireDrillAction } from '../actions';
import { ClipPart } from './clip-part';
import { DrillForm, type ItemChoice } from './drill-form';

type Props = {
  drill: Drill;
  items: readonly ItemChoice[];
  /** A clip on its way to this drill. */
  coming: DrillClip | null;
  viewerId: PersonId;
};

/** One drill of the library, with its clip, its new version and its retirement. */
export const DrillEntry = ({ drill, items, coming, viewerId }: Props) => {
  const router = useRouter();
  const [isWriting, setWriting] = useState(false);
  const [isRetiring, setRetiring] = useState(false);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const helped = items.filter((item) => drill.itemIds.includes(item.id)).map((item) => item.title);
  const retire = () =>
    start(async () => {
      const answer = await answerOf(
        retireDrillAction({ drillId: drill.id }),
        'The connection is lost. Press again.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      setRetiring(false);
      router.refresh();
    });
  if (isWriting) {
    const { id, seriesId: _series, number: _number, clip: _clip, ...text } = drill;
    return (
      <DrillForm
        start={text}
        replaces={id}
        items={items}
        onDone={() => {
          setWriting(false);
          router.refresh();
        }}
        onCancel={() => setWriting(false)}
      />
    );
  }
  return (
    <div className={css.drill}>
      <p>{drill.summary}</p>
      <ol>
        {drill.steps.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      {drill.drawing ? <GroundDrawing drawing={drill.drawing} /> : null}
      <ClipPart drill={drill} coming={coming} viewerId={viewerId} />
      <p className="small">
        How the ball comes: {drill.stages.map((stage) => STAGE_WORD[stage]).join(', then ')}.
      </p>
      <p className="small">{drill.safety.join(' ')}</p>
      {helped.length > 0 ? <p className="small">Helps: {helped.join('; ')}.</p> : null}
      <p className="small soft num">
        Version {drill.number}. {drill.standing}.
      </p>
      <p className="acts">
        <button type="button" className="btn small" onClick={() => setWriting(true)}>
          New version<span className="sr"> of {drill.title}</span>
        </button>
        <button type="button" className="btn quiet small" onClick={() => setRetiring(true)}>
          Retire<span className="sr"> {drill.title}</span>
        </button>
      </p>
      <Dialog
        isOpen={isRetiring}
        onClose={() => setRetiring(false)}
        title={`Retire ${drill.title}?`}
        footer={
          <button type="button" className="btn do" onClick={retire} disabled={isBusy}>
            Retire it
          </button>
        }
      >
        <p>It is not offered any more. Players who have it keep it until their next lesson.</p>
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </div>
  );
};
