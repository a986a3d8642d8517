'use client';

import { useEffect, useRef, useState } from 'react';
import { CagepostError } from '@/lib/domain/shared/errors';
import { isAbort } from '@/lib/review/media/frame-source';
import { fetchRemark } from '@/lib/review/remarks/spoken-remark';

/** A spoken remark to be heard; loaded when asked for. */
export const HearRemark = ({ address, title }: { address: string; title: string }) => {
  const [isWanted, setWanted] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const audio = useRef<HTMLAudioElement>(null);
  useEffect(() => {
    const element = audio.current;
    if (!isWanted || !element) return;
    const stop = new AbortController();
    let made: string | null = null;
    fetchRemark(address, stop.signal)
      .then((voice) => {
        made = URL.createObjectURL(voice);
        element.src = made;
        return element.play();
      })
      .catch((error: unknown) => {
        if (isAbort(error)) return;
        setFault(error instanceof CagepostError ? error.forPeople : 'This remark could not be played.');
      });
    return () => {
      stop.abort();
      if (made) URL.revokeObjectURL(made);
    };
  }, [isWanted, address]);
  if (fault) return <span role="alert">{fault}</span>;
  return isWanted ? (
    <audio ref={audio} controls aria-label={title} />
  ) : (
    <button type="button" className="btn small" aria-label={`Hear ${title}`} onClick={() => setWanted(true)}>
      Hear it
    </button>
  );
};
