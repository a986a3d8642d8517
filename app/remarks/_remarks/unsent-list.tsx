'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import { Notice } from '@/app/_ui/notice';
import { Row } from '@/app/_ui/page-grid';
import { keepRemarkAction } from '@/app/lessons/remark-actions';
import { lengthOfMs } from '@/lib/domain/breakdowns/moment-link';
import type { RemarkId } from '@/lib/domain/shared/ids';
import {
  openUnsentRemarks,
  sendUnsent,
  type PutOnShelf,
  type UnsentRemark,
} from '@/lib/review/remarks/unsent-remarks';
import css from './remarks.module.css';

export const putOnShelf: PutOnShelf = ({ id, seriesId, title, text, durationMs }) =>
  keepRemarkAction({
    ...{ id: id as RemarkId, seriesId: seriesId as RemarkId },
    ...{ title, text, isSpoken: true, durationMs },
  });

/**
 * Spoken remarks of this person that lie in this browser, because their voice could not be sent: they are sent when the
 * shelf is opened, when the connection is back, and when asked to. `turn` says that there may be another one.
 */
export const UnsentList = ({
  personId,
  turn,
  onSent,
}: {
  personId: string;
  turn: number;
  onSent: () => void;
}) => {
  const [left, setLeft] = useState<readonly UnsentRemark[]>([]);
  const [sentence, setSentence] = useState<string | null>(null);
  const [isBusy, setBusy] = useState(false);
  // One connection as long as the page lives: a sending that outlives this list still writes down how it went.
  const [store] = useState(() => (typeof indexedDB === 'undefined' ? null : openUnsentRemarks()));
  const sending = useRef<Promise<void>>(Promise.resolve());
  const newest = useRef(onSent);
  useEffect(() => {
    newest.current = onSent;
  });
  const sendAll = useCallback(() => {
    // One after the other: what was kept while one ran is sent by the next.
    sending.current = sending.current.then(async () => {
      if (!store) return;
      setBusy(true);
      let count = 0;
      let refusal: string | null = null;
      for (const remark of await store.list(personId)) {
        const refused = await sendUnsent(store, remark, putOnShelf);
        if (refused) refusal ??= refused;
        else count += 1;
      }
      setBusy(false);
      setSentence(refusal);
      setLeft(await store.list(personId));
      if (count > 0) newest.current();
    });
  }, [personId, store]);
  useEffect(() => {
    addEventListener('online', sendAll);
    sendAll();
    return () => removeEventListener('online', sendAll);
  }, [sendAll, turn]);
  const throwAway = async (id: string) => {
    await store?.remove(id);
    setLeft((await store?.list(personId)) ?? []);
  };
  if (left.length === 0) return null;
  return (
    <Row label="On this device">
      <Notice
        kind="info"
        title={left.length === 1 ? 'One voice was not sent' : `${left.length} voices were not sent`}
      >
        <p>{sentence}</p>
      </Notice>
      <ul className={css.shelf}>
        {left.map((remark) => (
          <li key={remark.id}>
            <p>
              {remark.title} <span className="small soft">spoken, {lengthOfMs(remark.durationMs)}</span>
            </p>
            <p className="acts">
              <HearUnsent remark={remark} />
              <button
                type="button"
                className="btn quiet small"
                aria-label={`Throw the voice of ${remark.title} away`}
                onClick={() => void throwAway(remark.id)}
              >
                Throw it away
              </button>
            </p>
          </li>
        ))}
      </ul>
      <p className="acts">
        <button type="button" className="btn" disabled={isBusy} onClick={sendAll}>
          {isBusy ? 'Sending' : 'Send again'}
        </button>
      </p>
    </Row>
  );
};

const HearUnsent = ({ remark }: { remark: UnsentRemark }) => {
  const audio = useRef<HTMLAudioElement>(null);
  useEffect(() => {
    const element = audio.current;
    if (!element) return;
    const address = URL.createObjectURL(new Blob([remark.voice], { type: remark.voiceType }));
    element.src = address;
    return () => {
      element.removeAttribute('src');
      URL.revokeObjectURL(address);
    };
  }, [remark]);
  return <audio ref={audio} controls aria-label={`What you said for ${remark.title}`} />;
};
