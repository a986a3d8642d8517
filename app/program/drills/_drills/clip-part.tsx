'use client';

import { useRouter } from 'next/navigation';
import { useState } from 'react';
import { DrillClip as ClipToWatch } from '@/app/practice/_practice/drill-clip';
import type { Drill } from '@/lib/domain/drills/drill';
import { SHOWS_WORD, type DrillClip } from '@/lib/domain/drills/drill-clip';
import type { PersonId } from '@/lib/domain/shared/ids';
import { AddClip } from './add-clip';
import { ComingClip } from './coming-clip';
import { TakeAway } from './take-away';

type Props = {
  drill: Drill;
  /** On its way, being prepared, or turned away. */
  coming: DrillClip | null;
  viewerId: PersonId;
};

/** The clip of a drill: what players watch, what is on its way, and how one is added or taken away. */
export const ClipPart = ({ drill, coming, viewerId }: Props) => {
  const router = useRouter();
  const [isAdding, setAdding] = useState(false);
  const { clip, title } = drill;
  return (
    <section className="stack tight" aria-label={`Clip of ${title}`}>
      {clip ? (
        <>
          <ClipToWatch clip={clip} title={title} />
          <p className="small soft">{SHOWS_WORD[clip.shows]}. Its sound is left out.</p>
        </>
      ) : null}
      {coming ? <ComingClip clip={coming} title={title} viewerId={viewerId} /> : null}
      {isAdding ? (
        <AddClip
          drill={drill}
          viewerId={viewerId}
          onDone={() => {
            setAdding(false);
            router.refresh();
          }}
          onCancel={() => setAdding(false)}
        />
      ) : (
        <p className="acts">
          {coming ? null : (
            <button type="button" className="btn small" onClick={() => setAdding(true)}>
              {clip ? 'Another clip' : 'Add a clip'}
              <span className="sr">: {title}</span>
            </button>
          )}
          {clip ? <TakeAway clipId={clip.id} title={title} isShown /> : null}
        </p>
      )}
    </section>
  );
};
